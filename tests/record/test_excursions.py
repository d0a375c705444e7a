"""Excursions: crossings on straight lines, facts at the edges, and laws."""

from datetime import UTC

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.record.excursions import Excursion, Limits, excursions
from swabwright.record.readings import Readings
from swabwright.work.cold_chain_said import excursion_said

LIMITS = Limits(2.0, 8.0)
SERIES = st.lists(st.floats(-5, 15), min_size=1, max_size=20)


def line(*temperatures_c, step=300):
    return Readings(tuple(step * place for place in range(len(temperatures_c))), temperatures_c)


def test_a_limit_is_crossed_on_the_straight_line_between_two_readings():
    (one,) = excursions([line(6.0, 10.0, 4.0)], LIMITS)
    # Half-way up after 150 s; a third of the way down after 300 + 100 s.
    assert (one.begins, one.ends, one.worst_c, one.worst_at) == (150, 400, 10.0, 300)


@pytest.mark.parametrize("at_limit", [2.0, 8.0])
def test_a_reading_on_a_limit_is_inside(at_limit):
    assert excursions([line(5.0, at_limit, 5.0)], LIMITS) == ()


def test_both_sides_are_told_in_order_of_time():
    found = excursions([line(5.0, 1.0, 9.0, 5.0)], LIMITS)
    assert [(one.side, one.worst_c) for one in found] == [("below", 1.0), ("above", 9.0)]


def test_a_run_that_begins_and_ends_outside_says_so():
    (one,) = excursions([line(9.0, 9.5)], LIMITS)
    assert (one.began_before, one.went_on, one.minutes) == (True, True, 5.0)


def test_a_lone_reading_outside_is_told_without_a_duration():
    (one,) = excursions([line(12.0)], LIMITS)
    assert excursion_said(one, UTC) == "above 8.0 °C in one reading, 1970-01-01 00:00 (+00:00), 12.0 °C."


def test_two_runs_are_not_joined_over_what_is_not_known():
    later = Readings((9000, 9300), (9.0, 9.0))
    assert len(excursions([line(9.0, 9.0), later], LIMITS)) == 2


def test_a_dip_back_inside_parts_two_excursions():
    assert len(excursions([line(5.0, 9.0, 7.0, 9.0, 5.0)], LIMITS)) == 2


@settings(deadline=None, derandomize=True)
@given(SERIES)
def test_every_reading_outside_lies_in_one_excursion_and_none_inside_does(temperatures_c):
    run = line(*temperatures_c)
    found = excursions([run], LIMITS)
    for at, temperature_c in zip(run.seconds, run.temperatures_c, strict=True):
        held = [one for one in found if one.begins <= at <= one.ends and one.begins != one.ends]
        lone = [one for one in found if one.begins == one.ends == at]
        if temperature_c > 8.1 or temperature_c < 1.9:
            assert len(held) + len(lone) == 1
        elif 2.1 < temperature_c < 7.9:
            assert all(at in (one.begins, one.ends) for one in held)


@settings(deadline=None, derandomize=True)
@given(SERIES, st.floats(0.5, 3.0))
def test_wider_limits_never_lengthen_the_time_outside(temperatures_c, wider):
    run = line(*temperatures_c)
    narrow = sum(one.minutes for one in excursions([run], LIMITS))
    wide = sum(one.minutes for one in excursions([run], Limits(2.0 - wider, 8.0 + wider)))
    # Crossings are told to the whole second.
    assert wide <= narrow + len(temperatures_c) / 30


@settings(deadline=None, derandomize=True)
@given(SERIES)
def test_the_worst_value_is_a_reading_beyond_the_limit(temperatures_c):
    for one in excursions([line(*temperatures_c)], LIMITS):
        beyond = one.worst_c > one.limit_c if one.side == "above" else one.worst_c < one.limit_c
        assert beyond
        assert one.worst_c in temperatures_c


@pytest.mark.parametrize(
    ("seconds", "said"), [(1, "1 second"), (59, "59 seconds"), (60, "1 minute"), (90, "1.5 minutes")]
)
def test_a_duration_is_said_to_a_tenth_of_a_minute(seconds, said):
    one = Excursion("above", 8.0, 0, seconds, 9.0, 0, began_before=False, went_on=False)
    assert f"for {said}, from" in excursion_said(one, UTC)


def test_the_sentence_has_duration_span_and_highest():
    (one,) = excursions([line(8.0, 9.2, 8.0, step=330)], LIMITS)
    said = "above 8.0 °C for 11 minutes, from 1970-01-01 00:00 to 00:11 (+00:00), highest 9.2 °C."
    assert excursion_said(one, UTC) == said
