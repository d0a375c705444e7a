"""Readings of a logger: gaps, windows, files joined; what is not known is never filled in."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.record.readings import Readings, Stretch, joined, known_lines, not_known

GAP = 3.0


def every_five_minutes(*minutes):
    return Readings(tuple(60 * at for at in minutes), tuple(4.0 + at / 100 for at in minutes))


WITH_GAP = every_five_minutes(0, 5, 10, 40, 45, 50)


def test_a_step_longer_than_the_usual_ones_is_a_gap():
    assert WITH_GAP.gaps(GAP) == (Stretch(600, 2400),)


def test_a_step_of_just_the_figure_is_none():
    assert every_five_minutes(0, 5, 10, 25, 30).gaps(GAP) == ()


def test_a_gap_parts_the_runs_and_is_not_known():
    lines = known_lines(WITH_GAP, Stretch(0, 3000), GAP)
    assert [line.seconds for line in lines] == [(0, 300, 600), (2400, 2700, 3000)]
    assert not_known(lines, Stretch(0, 3000)) == (Stretch(600, 2400),)


def test_a_window_cuts_the_straight_line():
    (line,) = known_lines(Readings((0, 600), (4.0, 10.0)), Stretch(100, 300), GAP)
    assert line == Readings((100, 300), (5.0, 7.0))


def test_readings_that_do_not_cover_the_window_leave_the_rest_unknown():
    lines = known_lines(every_five_minutes(10, 15, 20), Stretch(0, 3600), GAP)
    assert not_known(lines, Stretch(0, 3600)) == (Stretch(0, 600), Stretch(1200, 3600))


@pytest.mark.parametrize("readings", [Readings(), every_five_minutes(100, 105)])
def test_no_reading_in_the_window_leaves_all_of_it_unknown(readings):
    lines = known_lines(readings, Stretch(0, 3600), GAP)
    assert not_known(lines, Stretch(0, 3600)) == (Stretch(0, 3600),)


@settings(deadline=None, derandomize=True)
@given(st.sets(st.integers(0, 500), min_size=1, max_size=40), st.integers(0, 400), st.integers(0, 400))
def test_known_and_not_known_fill_the_window(minutes, first, length):
    window = Stretch(60 * first, 60 * (first + length))
    lines = known_lines(every_five_minutes(*sorted(minutes)), window, GAP)
    known = sum(line.seconds[-1] - line.seconds[0] for line in lines)
    assert known / 60 + sum(one.minutes for one in not_known(lines, window)) == pytest.approx(length)


@settings(deadline=None, derandomize=True)
@given(st.sets(st.integers(0, 500), min_size=2, max_size=40), st.integers(0, 40))
def test_a_file_split_in_two_is_joined_to_the_same_readings(minutes, where):
    whole = every_five_minutes(*sorted(minutes))
    first = Readings(whole.seconds[:where], whole.temperatures_c[:where])
    # The second file begins with the last reading of the first, as loggers often do.
    second = Readings(whole.seconds[max(where - 1, 0) :], whole.temperatures_c[max(where - 1, 0) :])
    assert joined([second, first]) == whole


def test_two_temperatures_at_one_moment_are_refused():
    with pytest.raises(SwabwrightError, match=r"4\.0 °C and 5\.0 °C for one moment"):
        joined([Readings((0,), (4.0,)), Readings((0,), (5.0,))])
