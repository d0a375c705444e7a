"""Chances and times as sentences say them."""

import pytest

from swabwright.case.plan import Chance
from swabwright.case.words import bounded, counted, doubt, hours_and_minutes, in_100, with_range


@pytest.mark.parametrize(
    ("value", "words"),
    [(0.914, "91 in 100"), (0.0, "less than 1 in 100"), (0.004, "less than 1 in 100"), (1.0, "more than 99 in 100")],
)
def test_a_chance_is_never_said_to_be_nothing_or_certain(value, words):
    assert in_100(value) == words


def test_a_chance_is_said_with_its_range():
    assert with_range(Chance(value=0.91, low=0.84, high=0.95, basis="bank B")) == "91 in 100 (84 to 95)"


@pytest.mark.parametrize(("number", "words"), [(1, "1 sample"), (2, "2 samples"), (0, "0 samples")])
def test_nouns_agree_with_their_number(number, words):
    assert counted(number, "sample") == words


@pytest.mark.parametrize(("minutes", "words"), [(40, "40 min"), (220, "3 h 40 min"), (59.7, "1 h 00 min")])
def test_minutes_are_written_out(minutes, words):
    assert hours_and_minutes(minutes) == words


@pytest.mark.parametrize(
    ("basis", "words"),
    [
        (
            "range uncertain: the facts leave 1.0 copies; bank B",
            "Take the range with caution: the facts leave 1.0 copies.",
        ),
        ("range 10 to 90 in 100 over structural copies; bank B", ""),
    ],
)
def test_a_range_that_may_be_off_is_told_with_its_reason(basis, words):
    assert doubt(Chance(value=0.9, low=0.8, high=0.95, basis=basis)) == words


@pytest.mark.parametrize(("bound", "says"), [(0.99, True), (0.995, False), (1.0, False)])
def test_a_bound_above_99_in_100_bounds_nothing(bound, says):
    assert bounded(bound) is says
