"""Dates and times of loggers: every spelling of a moment is read as that moment, or refused in words."""

from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.record.logger_times import guess_order, joined_cells, read_time, tells_order

MOMENTS = st.datetimes(datetime.fromisoformat("2001-01-01"), datetime.fromisoformat("2099-12-31T23:59:59"))
SPELLINGS = [
    ("%Y-%m-%dT%H:%M:%S", None),
    ("%Y-%m-%d %H:%M:%S.250", None),
    ("%Y/%m/%d %H:%M:%S", None),
    ("%d.%m.%Y %H:%M:%S", None),
    ("%d.%m.%y, %H:%M:%S", None),
    ("%d/%m/%Y %H:%M:%S", "day-month"),
    ("%m/%d/%Y %H:%M:%S", "month-day"),
    ("%m-%d-%y %I:%M:%S %p", "month-day"),
    ("%d/%m/%Y %I:%M:%S%p", "day-month"),
    ("%d %b %Y %H:%M:%S", None),
    ("%d-%B-%y %H:%M:%S", None),
]


@pytest.mark.parametrize(("spelling", "order"), SPELLINGS)
@settings(deadline=None, derandomize=True, max_examples=40)
@given(at=MOMENTS)
def test_a_moment_in_any_spelling_is_read_as_that_moment(spelling, order, at):
    assert read_time(at.strftime(spelling), order) == at.replace(microsecond=0)


@pytest.mark.parametrize("offset", ["Z", "+00:00", " UTC", "+0000"])
def test_an_offset_behind_the_time_is_kept(offset):
    assert read_time(f"2026-03-05 14:20{offset}", None) == datetime(2026, 3, 5, 14, 20, tzinfo=UTC)


def test_a_spreadsheets_time_is_rounded_to_the_second():
    just_before = datetime.fromisoformat("2026-03-05T14:19:59.999990")
    assert read_time(just_before, None) == datetime.fromisoformat("2026-03-05T14:20:00")


@pytest.mark.parametrize(("hour", "said"), [("12:05 AM", 0), ("12:05 PM", 12), ("1:05 am", 1), ("11:05 p.m.", 23)])
def test_midnight_and_noon_of_a_twelve_hour_clock(hour, said):
    assert read_time(f"2026-03-05 {hour}", None).hour == said


@pytest.mark.parametrize(
    "cell", [None, 46086.5, True, "", "14:20", "2026-03-05", "05/03/2026 14:20", "2026-13-05 14:20", "2026-03-05 24:20"]
)
def test_what_is_no_moment_is_refused(cell):
    with pytest.raises(ValueError, match=r".+"):
        read_time(cell, None)


@pytest.mark.parametrize(
    ("cells", "order"),
    [
        (["13/03/2026 14:20"], "day-month"),
        (["03/13/2026 14:20"], "month-day"),
        (["05.03.2026 14:20"], "day-month"),
        (["2026/03/05 14:20"], "year-month-day"),
        (["05/03/2026 14:20"], None),
        (["13/03/2026 14:20", "03/13/2026 14:20"], None),
        ([], None),
    ],
)
def test_the_order_is_told_by_numbers_above_twelve_points_and_years(cells, order):
    assert guess_order(cells) == order


@pytest.mark.parametrize(
    ("cell", "tells"), [("2026-03-05 14:20", True), ("5 Mar 2026 14:20", True), ("05/03/2026 14:20", False)]
)
def test_dates_with_the_year_first_or_a_months_name_need_no_order(cell, tells):
    assert tells_order([cell]) == tells


@pytest.mark.parametrize("day", [date(2026, 3, 5), "2026-03-05", datetime.fromisoformat("2026-03-05T00:00")])
@pytest.mark.parametrize("clock", [time(14, 20), "14:20", timedelta(hours=14, minutes=20)])
def test_date_and_time_of_day_in_two_cells_are_one_moment(day, clock):
    assert read_time(joined_cells(day, clock), None) == datetime.fromisoformat("2026-03-05T14:20")


@pytest.mark.parametrize("pair", [(None, time(14, 20)), (date(2026, 3, 5), None)])
def test_half_a_moment_is_none(pair):
    assert joined_cells(*pair) is None
