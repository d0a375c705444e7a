"""Probability of freedom over rounds, against following both states by hand."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.detection.statistics.aim import OutOfReach
from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.freedom import (
    MOMENTS,
    equilibrium,
    freedom_after,
    freedom_over_rounds,
    rounds_needed,
    sensitivity_for_freedom,
)

INNER = st.floats(0.01, 0.99)
RISKS = st.floats(0.0, 0.3)


def followed(prior, sensitivities, risks, moment):
    """Joint weights of free and contaminated with nothing detected so far, carried through every round."""
    free, contaminated = prior, 1 - prior
    for sensitivity, risk in zip(sensitivities, risks, strict=True):
        for step in ("enter", "sample") if moment == "before" else ("sample", "enter"):
            if step == "enter":
                free, contaminated = free * (1 - risk), contaminated + free * risk
            else:
                contaminated *= 1 - sensitivity
    return free / (free + contaminated)


@given(INNER, st.lists(st.tuples(INNER, RISKS), min_size=1, max_size=6), st.sampled_from(MOMENTS))
def test_freedom_is_that_of_following_both_states_through_every_round(prior, rounds, moment):
    sensitivities, risks = zip(*rounds, strict=True)
    value = freedom_over_rounds(prior, sensitivities, risks, moment).value
    assert value == pytest.approx(followed(prior, sensitivities, risks, moment))


@given(INNER, INNER, st.integers(1, 8))
def test_rounds_without_introduction_are_one_round_that_misses_as_rarely(prior, sensitivity, rounds):
    together = freedom_after(prior, 1 - (1 - sensitivity) ** rounds)
    assert freedom_over_rounds(prior, [sensitivity] * rounds, [0.0], "after").value == pytest.approx(together)


@pytest.mark.parametrize(
    ("prior", "sensitivity", "expected"), [(0.5, 0.95, 20 / 21), (0.5, 0.5, 2 / 3), (0.9, 0.0, 0.9)]
)
def test_one_round_by_hand(prior, sensitivity, expected):
    assert freedom_after(prior, sensitivity) == pytest.approx(expected)


@given(INNER, INNER, RISKS)
def test_what_comes_in_after_the_last_round_lowers_the_end_and_before_the_first_the_beginning(prior, sensitivity, risk):
    before = freedom_over_rounds(prior, [sensitivity], [risk], "before").rounds[0]
    after = freedom_over_rounds(prior, [sensitivity], [risk], "after").rounds[0]
    assert before.before_sampling == pytest.approx(prior * (1 - risk))
    assert after.at_end == pytest.approx(after.after_sampling * (1 - risk))


@settings(max_examples=40)
@given(st.floats(0.2, 0.99), st.floats(0.0, 0.15), st.sampled_from(MOMENTS))
def test_endless_rounds_lead_to_the_equilibrium(sensitivity, risk, moment):
    long = freedom_over_rounds(0.5, [sensitivity] * 2000, [risk], moment).value
    assert equilibrium(sensitivity, risk, moment).value == pytest.approx(long, abs=1e-9)


@given(st.floats(0.2, 0.99), st.floats(0.0, 0.15), st.sampled_from(MOMENTS))
def test_a_round_at_the_equilibrium_stays_there(sensitivity, risk, moment):
    settled = equilibrium(sensitivity, risk, moment).value
    assert freedom_over_rounds(settled, [sensitivity], [risk], moment).value == pytest.approx(settled)


@pytest.mark.parametrize("moment", MOMENTS)
def test_what_comes_in_more_often_than_it_is_detected_leaves_no_freedom(moment):
    assert equilibrium(0.2, 0.3, moment).value == 0.0


@given(INNER, st.floats(0.2, 0.99), st.floats(0.0, 0.02), st.floats(0.3, 0.9), st.sampled_from(MOMENTS))
def test_the_rounds_found_are_the_first_that_reach_the_wanted_freedom(prior, sensitivity, risk, wanted, moment):
    found = rounds_needed(prior, sensitivity, risk, moment, wanted=wanted)
    so_far = [one.at_end for one in found.rounds]
    assert so_far[-1] >= wanted - 1e-12
    assert all(one < wanted for one in so_far[:-1])


def test_freedom_that_introduction_keeps_away_is_out_of_reach():
    with pytest.raises(OutOfReach, match=r"the probability of freedom stays at 80 in 100, below 95 in 100"):
        rounds_needed(0.5, 0.5, 0.1, "after", wanted=0.95)


@given(INNER, INNER)
def test_the_sensitivity_for_a_wanted_freedom_gives_just_that(prior, wanted):
    sensitivity = sensitivity_for_freedom(prior, wanted).value
    assert freedom_after(prior, sensitivity) == pytest.approx(max(prior, wanted))


def test_the_sentence_tells_rounds_both_chances_and_when_it_comes_in():
    said = freedom_over_rounds(0.5, [0.7] * 3, [0.01], "before").sentence
    assert said.startswith("After 3 rounds with nothing detected it is free with a probability of 96.9 in 100, and")
    assert "3.1 in 100, the chance of coming in acting before each round" in said


def test_the_sentence_is_silent_on_what_cannot_come_in():
    assert "coming in" not in freedom_over_rounds(0.5, [0.7], [0.0], "before").sentence


@pytest.mark.parametrize(
    ("call", "names"),
    [
        (lambda: freedom_over_rounds(1.1, [0.5], [0.0], "before"), "prior_freedom: 1.1"),
        (lambda: freedom_over_rounds(0.5, [], [0.0], "before"), "system_sensitivity: give at least one"),
        (lambda: freedom_over_rounds(0.5, [1.5], [0.0], "before"), "system_sensitivity: 1.5"),
        (lambda: freedom_over_rounds(0.5, [0.5], [], "before"), "introduction: give at least one"),
        (lambda: freedom_over_rounds(0.5, [0.5] * 3, [0.1] * 2, "before"), "introduction: 2 chances for 3 rounds"),
        (lambda: freedom_over_rounds(0.5, [0.5], [-0.1], "after"), "introduction: -0.1"),
        (lambda: freedom_over_rounds(0.5, [0.5], [0.1], "during"), "moment: 'during' is not one of: before, after"),
        (lambda: freedom_after(0.0, 1.0), "prior_freedom: 0 with a system sensitivity of 1"),
        (lambda: equilibrium(0.0, 0.1, "after"), "system_sensitivity: 0"),
        (lambda: equilibrium(0.5, 1.0, "after"), "introduction: 1 leaves no freedom"),
        (lambda: rounds_needed(0.5, 0.5, 0.0, "after", wanted=1.0), "wanted: 1 must lie above 0 and below 1"),
        (lambda: sensitivity_for_freedom(0.0, 0.5), "prior_freedom: 0"),
    ],
)
def test_a_wrong_argument_is_named(call, names):
    with pytest.raises(ArgumentRefused, match=names):
        call()
