"""Logger files: what is guessed is shown and can be overruled; what cannot be read is named with its row."""

from datetime import date, datetime, time, timedelta

import pytest
from builders.loggers import HEADING, ROWS, file_of, moments, read, refusal, workbook

ABOVE = ("Logger,TL-1", "Unit,°F", "Time zone,America/Chicago", "")
COLUMNS = {"time_column": "A", "temperature_column": "B", "unit": "C"}
OSLO = {"time_zone": "Europe/Oslo"}
FIRST = "2026-03-05T14:20:00+01:00"


def oslo(file):
    return moments(file, file_zone())[0]


def file_zone():
    return datetime.fromisoformat(FIRST).tzinfo


def test_heading_columns_and_unit_are_guessed_and_said(tmp_path):
    file = read(file_of(tmp_path), **OSLO)
    assert file.readings.temperatures_c == (4.0, 6.0, 10.0, 5.0)
    said = " ".join(file.said)
    for words in ("Time: column A 'Date time'", "column B 'Temperature (°C)'", "Unit: C", "Europe/Oslo, as said"):
        assert words in said


def test_lines_above_the_heading_declare_unit_and_time_zone(tmp_path):
    path = file_of(tmp_path, "2026-03-05 14:20,39.2", "2026-03-05 14:25,41", heading="Time,Temperature", above=ABOVE)
    file = read(path)
    assert file.readings.temperatures_c == pytest.approx((4.0, 5.0))
    assert moments(file, file_zone())[0] == "2026-03-05T21:20:00+01:00"


@pytest.mark.parametrize("heading", ["Date Time, GMT+01:00;Temp. (°C)", "Date Time (UTC+1);Temperature °C"])
def test_a_time_zone_in_the_heading_is_taken(tmp_path, heading):
    path = file_of(tmp_path, *(row.replace(",", ";") for row in ROWS), heading=heading)
    assert oslo(read(path)) == FIRST


def test_without_offset_or_time_zone_the_file_is_refused_with_the_question(tmp_path):
    said = refusal(file_of(tmp_path))
    assert "carry no offset; in which time zone ran the logger's clock? Give --time-zone" in said


def test_without_a_unit_the_file_is_refused_with_the_question(tmp_path):
    assert "say it with --unit C or --unit F" in refusal(file_of(tmp_path, heading="Date time,Temperature"), **OSLO)


def test_the_unit_of_the_heading_can_be_overruled(tmp_path):
    path = file_of(tmp_path, "2026-03-05 14:20,50", "2026-03-05 14:25,41")
    assert read(path, unit="F", **OSLO).readings.temperatures_c == pytest.approx((10.0, 5.0))


def test_times_with_their_own_offset_need_no_time_zone(tmp_path):
    path = file_of(tmp_path, "2026-03-05T14:20:00+01:00,4", "2026-03-05T13:25:00Z,5")
    assert oslo(read(path)) == FIRST
    assert "leave the option out" in refusal(path, **OSLO)


@pytest.mark.parametrize(
    ("heading", "rows", "asked"),
    [
        ("Date,Time,Temp °C", ["05.03.2026,14:20,4", "05.03.2026,14:25,5"], {}),
        ("Date,Time,Temp °C", ["2026-03-05,2:20 PM,4", "2026-03-05,2:25 pm,5"], {}),
        ("Time,Temp °C", ["05/03/2026 14:20,4", "05/03/2026 14:25,5"], {"date_order": "day-month"}),
        ("Time,Temp °C", ["03/05/26 2:20:00 PM,4", "03/05/26 2:25:00 PM,5"], {"date_order": "month-day"}),
        ("Time,Temp °C", ["5-Mar-2026 14:20,4", "5 March 2026 14:25,5"], {}),
        ("Zeit;Temperatur °C", ["05.03.2026 14:20;4,0", "05.03.2026 14:25;5,0"], {}),
        ("When,What", ["2026-03-05 14:20,4", "2026-03-05 14:25,5"], {"heading_row": 1, **COLUMNS}),
        ("2026-03-05 14:20,4", ["2026-03-05 14:25,5"], {"heading_row": 0, **COLUMNS}),
    ],
)
def test_dates_and_columns_in_many_spellings_are_one_moment(tmp_path, heading, rows, asked):
    file = read(file_of(tmp_path, *rows, heading=heading), **OSLO, **asked)
    assert (oslo(file), file.readings.temperatures_c) == (FIRST, (4.0, 5.0))


def test_dates_that_may_be_day_or_month_first_are_asked_about(tmp_path):
    path = file_of(tmp_path, "05/03/2026 14:20,4", "05/03/2026 14:25,5")
    assert "say --date-order day-month or month-day" in refusal(path, **OSLO)


def test_a_day_above_twelve_tells_the_order(tmp_path):
    file = read(file_of(tmp_path, "12/03/2026 23:55,4", "13/03/2026 00:00,5"), **OSLO)
    assert "Dates: day-month, from the dates themselves (--date-order overrules)." in file.said


def test_a_workbook_is_read_from_the_sheet_that_holds_the_readings(tmp_path):
    first, second = (datetime.fromisoformat(f"2026-03-05T14:{minute}") for minute in (20, 25))
    rows = [["Date time", "Temperature (°C)"], [first, 4.0], [second, 5]]
    file = read(workbook(tmp_path / "logger.xlsx", rows, ["Summary"]), **OSLO)
    assert (oslo(file), file.readings.temperatures_c, file.read_as.sheet) == (FIRST, (4.0, 5.0), "Readings")


def test_a_workbook_with_date_and_time_apart_is_joined(tmp_path):
    day = date(2026, 3, 5)
    rows = [["Date", "Time", "Temperature (°C)"], [day, time(14, 20), 4.0], [day, time(14, 25), 5.0]]
    assert oslo(read(workbook(tmp_path / "logger.xlsx", rows), **OSLO)) == FIRST


def test_a_file_read_by_what_was_noted_gives_the_same_readings(tmp_path):
    path = file_of(tmp_path, "12/03/2026 23:55,39.2", "13/03/2026 00:00,41", heading="Time,Temp", above=ABOVE)
    first = read(path)
    renamed = path.rename(tmp_path / "0f3c.csv")
    again = read(renamed, **first.read_as.model_dump(exclude_none=True))
    assert (again.readings, again.read_as) == (first.readings, first.read_as)


@pytest.mark.parametrize("second", ["Temperature 2 (°C)", "Dew point (°C)", "Ambient temp"])
def test_a_second_column_of_temperatures_is_told_and_not_read(tmp_path, second):
    path = file_of(tmp_path, *(f"{row},20.0" for row in ROWS), heading=f"{HEADING},{second}")
    file = read(path, **OSLO)
    assert max(file.readings.temperatures_c) == 10.0
    assert any(said.startswith(f"Not read: column C '{second}'") for said in file.said)


def test_rows_from_the_newest_to_the_oldest_are_read_from_below(tmp_path):
    file = read(file_of(tmp_path, *reversed(ROWS)), **OSLO)
    assert file.readings == read(file_of(tmp_path), **OSLO).readings
    assert "The rows run from the newest to the oldest; read from below." in file.said


def test_a_row_left_out_by_decision_is_not_read_and_said(tmp_path):
    file = read(file_of(tmp_path, ROWS[0], "2026-03-05 14:25,ERR", *ROWS[2:]), left_out=(3,), **OSLO)
    assert file.readings.temperatures_c == (4.0, 10.0, 5.0)
    assert "Left out as said: row 3." in file.said


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("2026-03-05 14:40,ERR", "row 6: 'ERR' is no temperature; leave the row out with --leave-out 6"),
        ("2026-03-05 14:40,", "row 6: '' is no temperature"),
        ("2026-03-05 14:40,-127", "row 6: -127.0 °C is a fault of the logger"),
        ("2026-03-05 14:40,41 °F", "the readings carry F, but the heading says C"),
        ("yesterday,4.0", "row 6: 'yesterday' is no date with a time of day"),
        ("2026-03-05,4.0", "row 6: '2026-03-05' has no time of day"),
        ("2026-02-30 10:00,4.0", "row 6: day"),
        ("5 Foo 2026 10:00,4.0", "row 6: 'Foo' is no month"),
        ("2026-03-05 14:40 PM,4.0", "row 6: '2026-03-05 14:40 PM' has no such hour on a twelve-hour clock"),
        ("2026-03-05 14:35,4.0", "row 6: repeats the time of row 5"),
        ("2026-03-05 14:31,4.0", "row 6: is earlier than row 5"),
        ("2026-03-05T14:40:00+01:00,4.0", "row 2: has no offset, while other rows have one"),
    ],
)
def test_a_row_that_cannot_be_read_is_named(tmp_path, row, words):
    assert words in refusal(file_of(tmp_path, *ROWS, row), **OSLO)


def test_a_unit_said_against_that_of_the_readings_is_refused(tmp_path):
    path = file_of(tmp_path, "2026-03-05 14:20,4 °C", "2026-03-05 14:25,5 °C", heading="Time,Temperature")
    assert "the readings carry C, but --unit says F" in refusal(path, unit="F", **OSLO)


def test_both_orders_of_a_date_in_one_file_are_refused(tmp_path):
    path = file_of(tmp_path, "13/03/2026 14:20,4", "03/14/2026 14:25,5")
    assert "say --date-order" in refusal(path, **OSLO)
    assert "row 3: " in refusal(path, date_order="day-month", **OSLO)


def test_a_date_and_a_length_of_time_apart_are_joined(tmp_path):
    rows = [["Date", "Time", "Temperature (°C)"], [date(2026, 3, 5), timedelta(hours=14, minutes=20), 4.0]]
    rows += [[date(2026, 3, 5), timedelta(hours=14, minutes=25), 4.0]]
    assert oslo(read(workbook(tmp_path / "logger.xlsx", rows), **OSLO)) == FIRST


def test_a_decimal_comma_between_commas_is_not_read_as_whole_degrees(tmp_path):
    path = file_of(tmp_path, "2026-03-05 14:20,4,0", "2026-03-05 14:25,7,9")
    assert "row 2: has digits beside the temperature, under no heading; is the decimal mark a comma?" in refusal(
        path, **OSLO
    )


def test_a_mark_behind_the_last_column_is_no_digit(tmp_path):
    assert read(file_of(tmp_path, *(f"{row}," for row in ROWS)), **OSLO).readings.temperatures_c[0] == 4.0


def test_mixed_units_are_refused_with_both_rows(tmp_path):
    path = file_of(tmp_path, "2026-03-05 14:20,4 °C", "2026-03-05 14:25,41 °F", heading="Time,Temperature")
    assert "row 3: is in F, while row 2 is in C; one file holds one unit" in refusal(path, **OSLO)


def test_a_second_heading_in_another_unit_is_refused(tmp_path):
    second = ("2026-03-05 14:40,4 °C", "Date time,Temperature (°F)", "2026-03-05 14:45,41")
    assert "row 7: is in F, while row 6 is in C" in refusal(file_of(tmp_path, *ROWS, *second), **OSLO)


def test_heading_and_lines_above_in_two_units_are_refused(tmp_path):
    assert "name both C and F" in refusal(file_of(tmp_path, above=("Unit,°F",)), **OSLO)


def test_only_the_first_of_many_faults_are_told(tmp_path):
    rows = [f"2026-03-05 {hour:02d}:00,none" for hour in range(24)]
    assert "and 14 more like these" in refusal(file_of(tmp_path, *rows), **OSLO)


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({"time_zone": "Oslo"}, "no time zone 'Oslo'; give a place such as Europe/Oslo"),
        ({"time_zone": "+99:00"}, "no time zone '+99:00'"),
        ({"time_column": "Q", **OSLO}, "no column Q; the sheet has A to B"),
        ({"sheet": "Data", **OSLO}, "no sheet 'Data'"),
        ({"heading_row": 90, **OSLO}, "no row looks like a heading"),
    ],
)
def test_an_option_that_fits_nothing_is_refused(tmp_path, asked, words):
    assert words in refusal(file_of(tmp_path), **asked)


@pytest.mark.parametrize("text", ["", "\n\n", "Some notes\n", f"{HEADING}\n"])
def test_a_file_without_readings_is_refused(tmp_path, text):
    path = tmp_path / "empty.csv"
    path.write_text(text)
    assert refusal(path, **OSLO).startswith("empty.csv: ")


def test_a_file_that_is_no_workbook_is_refused(tmp_path):
    path = tmp_path / "logger.xlsx"
    path.write_bytes(b"not a workbook")
    assert "this is no spreadsheet that can be read" in refusal(path, **OSLO)
