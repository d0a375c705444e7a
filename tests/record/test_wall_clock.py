"""The logger's wall clock where clocks change: a repeated hour by order or refused, a missing hour refused."""

from itertools import pairwise
from tempfile import TemporaryDirectory

import pytest
from builders.loggers import file_of, moments, read, refusal
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.record.moments import read_zone, said_span, seconds_of, written

OSLO = {"time_zone": "Europe/Oslo"}
# In Oslo on 25 October 2026 at 03:00 summer time the clocks go back to 02:00; on 29 March at 02:00 forward to 03:00.


def autumn(*times):
    return [f"2026-10-25 {time},4.0" for time in times]


def test_a_repeated_hour_is_told_apart_by_the_order_of_the_rows(tmp_path):
    file = read(file_of(tmp_path, *autumn("01:30", "02:00", "02:30", "02:00", "02:30", "03:00")), **OSLO)
    offsets = [moment[11:16] + moment[19:] for moment in moments(file, read_zone("Europe/Oslo"))]
    assert offsets[2:5] == ["02:30+02:00", "02:00+01:00", "02:30+01:00"]
    assert any("by the order of the rows it is the second time from row 5 on" in said for said in file.said)


def test_an_hourly_logger_repeats_the_hour_itself(tmp_path):
    file = read(file_of(tmp_path, *autumn("01:00", "02:00", "02:00", "03:00")), **OSLO)
    assert {later - earlier for earlier, later in pairwise(file.readings.seconds)} == {3600}


def test_a_time_repeated_in_the_repeated_hour_is_still_refused(tmp_path):
    assert "row 4: repeats the time of row 3" in refusal(file_of(tmp_path, *autumn("01:55", "02:00", "02:00")), **OSLO)


def test_a_file_that_ends_in_the_repeated_hour_goes_on_from_before(tmp_path):
    file = read(file_of(tmp_path, *autumn("01:55", "02:00", "02:05")), **OSLO)
    assert [later - earlier for earlier, later in pairwise(file.readings.seconds)] == [300, 300]


@pytest.mark.parametrize("times", [("02:10", "02:20"), ("01:50", "02:00", "02:50", "03:00")])
def test_a_repeated_hour_that_the_rows_do_not_tell_is_refused(tmp_path, times):
    said = refusal(file_of(tmp_path, *autumn(*times)), **OSLO)
    assert "came twice in Europe/Oslo" in said
    assert "give the logger's own offset with --time-zone" in said


def test_the_offset_itself_resolves_it(tmp_path):
    file = read(file_of(tmp_path, *autumn("02:10", "02:20")), time_zone="+02:00")
    assert written(file.readings.seconds[0], read_zone("UTC")) == "2026-10-25T00:10:00+00:00"


def test_an_hour_that_did_not_exist_is_refused(tmp_path):
    path = file_of(tmp_path, "2026-03-29 01:55,4", "2026-03-29 02:00,4", "2026-03-29 03:05,4")
    assert "row 3: 2026-03-29 02:00 did not exist in Europe/Oslo, the clocks went forward" in refusal(path, **OSLO)


@pytest.mark.parametrize(
    ("name", "offset"),
    [("UTC", "+00:00"), ("Z", "+00:00"), ("+01:00", "+01:00"), ("UTC-6", "-06:00"), ("GMT+0530", "+05:30")],
)
def test_an_offset_is_read_in_its_spellings(name, offset):
    assert written(0, read_zone(name)).endswith(offset)


def test_a_span_says_the_date_again_only_where_it_changes():
    zone, day = read_zone("UTC"), 24 * 3600
    assert said_span(0, 660, zone) == "from 1970-01-01 00:00 to 00:11 (+00:00)"
    assert said_span(day - 60, day + 60, zone) == "from 1970-01-01 23:59 to 1970-01-02 00:01 (+00:00)"


def test_a_span_over_a_change_of_clocks_says_both_offsets():
    first, last = (seconds_of(f"2026-10-25T0{hour}:30:00Z") for hour in (0, 1))
    assert said_span(first, last, read_zone("Europe/Oslo")).count("02:30") == 2


@settings(deadline=None, derandomize=True)
@given(st.integers(0, 2_000_000_000), st.sampled_from(["Europe/Oslo", "America/Chicago", "+05:30"]))
def test_a_moment_written_in_a_zone_is_the_same_moment(seconds, zone):
    assert seconds_of(written(seconds, read_zone(zone))) == seconds


@settings(deadline=None, derandomize=True, max_examples=60)
@given(
    st.integers(1_770_000_000, 1_800_000_000), st.integers(2, 30), st.sampled_from(["Europe/Oslo", "America/Chicago"])
)
def test_a_wall_clock_written_down_is_read_back_or_asked_about(starts, count, zone):
    seconds = tuple(starts // 60 * 60 + 300 * place for place in range(count))
    rows = [f"{written(at, read_zone(zone))[:16].replace('T', ' ')},4.0" for at in seconds]
    with TemporaryDirectory() as folder:
        path = file_of(folder, *rows)
        said = refusal(path, time_zone=zone)
        assert "came twice" in said if said else read(path, time_zone=zone).readings.seconds == seconds


@pytest.mark.parametrize("minutes_before", range(0, 120, 5))
def test_a_file_across_the_end_of_summer_time_is_never_read_an_hour_off(tmp_path, minutes_before):
    starts = seconds_of("2026-10-25T01:00:00Z") - 60 * minutes_before
    seconds = tuple(starts + 300 * place for place in range(36))
    path = file_of(tmp_path, *(f"{written(at, read_zone('Europe/Oslo'))[:16]},4.0" for at in seconds))
    said = refusal(path, **OSLO)
    assert "came twice" in said if said else read(path, **OSLO).readings.seconds == seconds
