"""Finite populations and perfect specificity: the exact answer and the approximation that never promises more."""

from math import ceil, comb

import pytest
from builders.golden import golden
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.detection.statistics.aim import OutOfReach
from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.finite import FinitePopulation, exact_sensitivity
from swabwright.detection.statistics.performance import Performance
from swabwright.detection.statistics.without_replacement import (
    detection_chance,
    finite_sample_size,
    finite_sensitivity,
)

ROWS = golden("statistics", "finite_population")["rows"]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['contaminated']}-of-{row['size']}")
def test_samples_for_95_in_100_are_those_of_the_field_manual(row):
    population = FinitePopulation(row["size"], row["contaminated"])
    assert finite_sample_size(0.95, population, 1.0, "exact").value == row["samples"]


@given(st.integers(10, 2000), st.data())
def test_the_field_manuals_formula_is_never_further_off_than_one_sample(size, data):
    contaminated = data.draw(st.integers(1, size // 2))
    about = (1 - 0.05 ** (1 / contaminated)) * (size - (contaminated - 1) / 2)
    exact = finite_sample_size(0.95, FinitePopulation(size, contaminated), 1.0, "exact").value
    assert abs(exact - ceil(about - 1e-9)) <= 1


@st.composite
def samples_of(draw):
    size = draw(st.integers(1, 300))
    return draw(st.integers(0, size)), FinitePopulation(size, draw(st.integers(1, size)))


@given(samples_of())
def test_a_perfect_test_misses_only_samples_without_a_contaminated_unit(case):
    samples, population = case
    missed = comb(population.size - population.contaminated, samples) / comb(population.size, samples)
    assert detection_chance(samples, population, 1.0, "exact") == pytest.approx(1 - missed, abs=1e-12)


@given(samples_of(), st.floats(0.05, 1.0))
def test_both_exact_ways_agree(case, sensitivity):
    samples, population = case
    general = exact_sensitivity(max(samples, 1), population, Performance(sensitivity)).value
    assert detection_chance(max(samples, 1), population, sensitivity, "exact") == pytest.approx(general, abs=1e-11)


@given(samples_of(), st.floats(0.05, 1.0))
def test_the_approximation_never_promises_more_than_the_exact_answer(case, sensitivity):
    about, exact = (detection_chance(*case, sensitivity, how) for how in ("approximate", "exact"))
    assert about <= exact + 1e-12


@settings(max_examples=60)
@given(samples_of(), st.floats(0.2, 1.0), st.floats(0.1, 0.99), st.sampled_from(["exact", "approximate"]))
def test_the_number_found_is_the_first_that_reaches_the_aim(case, sensitivity, wanted, how):
    population = case[1]
    chances = [detection_chance(n, population, sensitivity, how) for n in range(1, population.size + 1)]
    first = next((n for n, chance in enumerate(chances, start=1) if chance >= wanted - 1e-12), None)
    try:
        found = finite_sample_size(wanted, population, sensitivity, how).value
    except OutOfReach:
        found = None
    assert found == first


@pytest.mark.parametrize(("size", "samples"), [(20, 19), (100, 95), (1000, 950), (40, 38)])
def test_one_contaminated_unit_is_in_the_sample_as_often_as_the_share_sampled(size, samples):
    assert finite_sample_size(0.95, FinitePopulation(size, 1), 1.0, "exact").value == samples


def test_even_every_unit_may_not_reach_the_aim():
    with pytest.raises(OutOfReach, match="all 30 units tested once reach 80 in 100, not 95 in 100"):
        finite_sample_size(0.95, FinitePopulation(30, 1), 0.8, "exact")


@pytest.mark.parametrize(
    ("arguments", "names"),
    [
        ((31, FinitePopulation(30, 1), 0.8, "exact"), "samples: 31 is more than the 30 of population_size"),
        ((3, FinitePopulation(30, 1), 0.0, "exact"), "unit_sensitivity: 0"),
        ((3, FinitePopulation(30, 1), 0.8, "quick"), "calculation: 'quick' is not one of: exact, approximate"),
    ],
)
def test_a_wrong_argument_is_named(arguments, names):
    with pytest.raises(ArgumentRefused, match=names):
        finite_sensitivity(*arguments)
