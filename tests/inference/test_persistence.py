"""Repeats of a strain: the binomial sum written out, a reference always with its source, several strains adjusted."""

from dataclasses import replace
from math import comb

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.inference.persistence import Repeats, holm, persistence, persistence_p

LAW = settings(deadline=None, derandomize=True, max_examples=60)
FREQUENCY = st.floats(0.001, 1.0)
ONE = Repeats("A", 4, 5, 0.02, "state collection, 12 of 600")


@LAW
@given(st.integers(0, 12), st.integers(0, 12), FREQUENCY)
def test_the_chance_is_the_binomial_sum(repeats, others, frequency):
    isolates = repeats + others
    terms = [comb(isolates, j) * frequency**j * (1 - frequency) ** (isolates - j) for j in range(repeats, isolates + 1)]
    assert persistence_p(repeats, isolates, frequency) == pytest.approx(sum(terms))


def test_three_of_three_from_a_tenth_has_the_chance_of_a_thousandth():
    assert persistence_p(3, 3, 0.1) == pytest.approx(0.001)


@LAW
@given(st.integers(0, 9), FREQUENCY)
def test_more_repeats_are_never_more_likely(repeats, frequency):
    assert persistence_p(repeats + 1, 10, frequency) <= persistence_p(repeats, 10, frequency)


@pytest.mark.parametrize(
    ("repeats", "isolates", "frequency", "says"),
    [(4, 3, 0.1, "repeats: 4"), (-1, 3, 0.1, "repeats: -1"), (1, 3, 0.0, "above 0"), (1, 3, 1.1, "1.1 is not")],
)
def test_counts_and_frequencies_that_cannot_be_are_named(repeats, isolates, frequency, says):
    with pytest.raises(SwabwrightError, match=says):
        persistence_p(repeats, isolates, frequency)


def test_a_frequency_that_is_no_number_is_refused():
    with pytest.raises(SwabwrightError, match="nan is not a share"):
        persistence_p(1, 3, float("nan"))


def test_a_reference_without_its_source_is_refused():
    with pytest.raises(SwabwrightError, match="A: say where the reference frequency comes from"):
        persistence([replace(ONE, reference_source=" ")])


def test_a_strain_tested_twice_is_refused():
    with pytest.raises(SwabwrightError, match="A: is tested twice"):
        persistence([ONE, replace(ONE, repeats=3)])


def test_the_sentence_gives_counts_source_chance_and_limit():
    (found,) = persistence([ONE])
    assert found.sentence.startswith(
        "A: 4 of 5 isolates; were isolates drawn from the reference (frequency 0.02; state"
    )
    assert "a chance of 7.9e-07. A small chance says" in found.sentence


def test_several_strains_are_said_adjusted_too():
    found = persistence([ONE, Repeats("B", 1, 5, 0.2, "the same")])
    assert found[0].chance_adjusted == pytest.approx(2 * found[0].chance)
    assert all("adjusted for all strains tested here (Holm)" in one.sentence for one in found)


def test_holm_steps_up_from_the_smallest():
    # 3 x 0.01, then the larger of that and 2 x 0.04, then the larger of that and 0.045.
    assert holm([0.04, 0.01, 0.045]) == pytest.approx((0.08, 0.03, 0.08))


@LAW
@given(st.lists(st.floats(0.0, 1.0), min_size=1, max_size=8))
def test_holm_never_lowers_a_chance_nor_changes_their_order(chances):
    adjusted = holm(chances)
    assert all(chance <= after <= 1.0 for chance, after in zip(chances, adjusted, strict=True))
    pairs = sorted(zip(chances, adjusted, strict=True))
    assert [after for _, after in pairs] == sorted(adjusted)
