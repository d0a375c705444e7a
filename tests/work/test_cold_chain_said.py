"""Sentences about temperatures and hours: facts with their edges, never what they mean."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.record.deadline import Deadline
from swabwright.record.excursions import Limits, excursions
from swabwright.record.moments import read_zone, seconds_of
from swabwright.record.readings import Readings
from swabwright.reports.banned import banned_phrases
from swabwright.work.cold_chain_said import deadline_said, excursion_said

COLLECTED = "2026-03-05T14:00:00+01:00"
ZONE = read_zone("+01:00")
START = seconds_of("2026-03-05T14:00:00+01:00")


def clock(started=None, as_of="2026-03-06T12:00:00+01:00"):
    return Deadline("5T6F4V-F", COLLECTED, started, seconds_of(as_of), 24.0, 48.0)


def said_of(*temperatures_c):
    readings = Readings(tuple(START + 300 * place for place in range(len(temperatures_c))), temperatures_c)
    return [excursion_said(one, ZONE) for one in excursions([readings], Limits(2.0, 8.0))]


def test_too_cold_says_the_lowest():
    assert said_of(4.0, 0.0, 4.0) == [
        "below 2.0 °C for 5 minutes, from 2026-03-05 14:02 to 14:07 (+01:00), lowest 0.0 °C."
    ]


def test_outside_from_the_first_to_the_last_known_moment_says_both():
    (said,) = said_of(9.0, 9.0)
    assert said.endswith("highest 9.0 °C, already so at the first known moment, still so at the last known moment.")


def test_hours_so_far_with_what_is_left():
    assert deadline_said(clock()) == (
        f"collected {COLLECTED}; 22 h 00 min so far; no start of analysis is in the record; "
        "target of 24 h: 2 h 00 min left, ends 2026-03-06 14:00 (+01:00); "
        "limit of 48 h: 26 h 00 min left, ends 2026-03-07 14:00 (+01:00)."
    )


def test_hours_past_the_target_are_told_as_past():
    said = deadline_said(clock(as_of="2026-03-06T15:30:00+01:00"))
    assert "target of 24 h: 1 h 30 min past, ended" in said


def test_a_started_analysis_stops_the_clock():
    said = deadline_said(clock("2026-03-06T08:30:00+01:00", "2026-03-09T12:00:00+01:00"))
    assert "18 h 30 min until analysis started, 2026-03-06T08:30:00+01:00" in said
    assert "target of 24 h: 5 h 30 min before its end, 2026-03-06 14:00 (+01:00)" in said


def test_an_analysis_that_started_late_is_told_with_its_hours():
    assert "target of 24 h: 2 h 00 min after its end" in deadline_said(clock("2026-03-06T16:00:00+01:00"))


def test_an_analysis_before_the_collection_is_told_as_it_stands():
    assert "later than the start of analysis, 2026-03-05T13:00:00+01:00" in deadline_said(
        clock("2026-03-05T13:00:00+01:00")
    )


@pytest.mark.parametrize("offset", ["+01:00", "-06:00", "Z"])
def test_the_end_is_told_in_the_offset_of_the_collection(offset):
    found = Deadline("5T6F4V-F", f"2026-03-05T14:00:00{offset}", None, START + 86_400, 24.0, 48.0)
    assert f"limit of 48 h: {int(found.limit_left_hours)} h 00 min left, ends 2026-03-07 14:00 (" in deadline_said(
        found
    )


@settings(deadline=None, derandomize=True)
@given(st.lists(st.floats(-10, 30), min_size=1, max_size=10))
def test_no_sentence_says_what_an_excursion_means(temperatures_c):
    assert all(banned_phrases(said) == [] for said in said_of(*temperatures_c))
