"""A finite population with an imperfect test and a cut-point, against counting every case."""

from itertools import pairwise
from math import comb

import numpy as np
import pytest
from builders.brute_force import first_that_reaches, positives_by_counting
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import hypergeom

from swabwright.detection.statistics.aim import Aim, OutOfReach
from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.finite import FinitePopulation, exact_reached, exact_sensitivity
from swabwright.detection.statistics.finite_search import every_size, exact_sample_size
from swabwright.detection.statistics.hypergeometric import contaminated_in_sample, one_more_drawn
from swabwright.detection.statistics.large import large_sensitivity
from swabwright.detection.statistics.performance import Performance

TESTS = st.builds(Performance, st.floats(0.55, 1.0), st.floats(0.55, 1.0))


@st.composite
def populations(draw, most):
    size = draw(st.integers(1, most))
    return FinitePopulation(size, draw(st.integers(1, size)))


@settings(max_examples=40)
@given(populations(6), st.data(), TESTS)
def test_sensitivity_is_that_of_counting_every_sample_and_every_result(population, data, test):
    samples = data.draw(st.integers(1, population.size))
    cut_point = data.draw(st.integers(0, samples))
    counted = positives_by_counting(population.size, population.contaminated, samples, test)
    value = exact_sensitivity(samples, population, test, cut_point).value
    assert value == pytest.approx(sum(counted[cut_point + 1 :]), abs=1e-12)


@settings(max_examples=40)
@given(populations(60), TESTS, st.sampled_from([None, 0, 2]), st.floats(0.5, 0.95))
def test_a_table_carried_from_size_to_size_agrees_with_each_size_alone(population, test, cut_point, specificity):
    for one in every_size(Aim(0.9, specificity, cut_point), population, test):
        if one.cut_point > one.samples:
            continue
        alone = exact_reached(one.samples, population, test, one.cut_point)
        assert one.system_sensitivity == pytest.approx(alone.system_sensitivity, abs=1e-11)


@settings(max_examples=60)
@given(populations(30), TESTS, st.floats(0.3, 0.95), st.floats(0.3, 0.95), st.sampled_from([None, None, 0, 1]))
def test_the_search_finds_the_first_size_that_any_cut_point_allows(population, test, wanted, specificity, cut_point):
    aim = Aim(wanted, specificity, cut_point)

    def reach(samples, cut):
        if cut > samples:
            return 0.0, 1.0
        one = exact_reached(samples, population, test, cut)
        return one.system_sensitivity, one.system_specificity

    first = first_that_reaches(aim, reach, range(1, population.size + 1))
    try:
        found = exact_sample_size(aim, population, test).value
    except OutOfReach:
        found = None
    assert found == first


def test_sensitivity_falls_where_the_cut_point_has_to_rise():
    aim, population = Aim(0.99, 0.95), FinitePopulation(100, 10)
    sizes = list(every_size(aim, population, Performance(0.9, 0.98)))
    falls = [b.cut_point - a.cut_point for a, b in pairwise(sizes) if b.system_sensitivity < a.system_sensitivity]
    assert falls
    assert set(falls) == {1}


def test_a_large_population_behaves_as_one_without_end():
    test, population = Performance(0.8, 0.97), FinitePopulation(1_000_000, 50_000)
    value = exact_sensitivity(60, population, test, 3).value
    assert value == pytest.approx(large_sensitivity(60, 0.05, test, 3).value, abs=2e-5)


def test_testing_every_unit_with_a_perfect_test_shows_it():
    assert exact_sensitivity(40, FinitePopulation(40, 1), Performance()).value == 1.0


def test_specificity_is_that_of_independent_samples_without_contamination():
    alone = exact_reached(25, FinitePopulation(40, 4), Performance(0.8, 0.96), 1)
    assert alone.system_specificity == pytest.approx(reached_without(25, 0.04, 1))


def reached_without(samples, false_positive, cut_point):
    return sum(
        comb(samples, x) * false_positive**x * (1 - false_positive) ** (samples - x) for x in range(cut_point + 1)
    )


@given(st.integers(1, 400), st.data())
def test_draws_without_replacement_are_hypergeometric(size, data):
    contaminated, samples = data.draw(st.integers(1, size)), data.draw(st.integers(0, size))
    found = contaminated_in_sample(size, contaminated, samples)
    expected = hypergeom.pmf(np.arange(found.size), size, contaminated, samples)
    assert found == pytest.approx(expected, abs=1e-11)
    assert found.sum() == pytest.approx(1.0)


def test_drawing_one_after_the_other_ends_where_drawing_at_once_does():
    chances = np.zeros(31)
    chances[0] = 1.0
    for drawn in range(70):
        chances = one_more_drawn(chances, drawn, 100, 30)
    assert chances == pytest.approx(contaminated_in_sample(100, 30, 70), abs=1e-13)


@given(st.integers(1, 5000), st.floats(0.0005, 1.0))
def test_contaminated_units_are_the_fewest_that_make_the_design_prevalence(size, prevalence):
    population = FinitePopulation.at(size, prevalence)
    assert population.prevalence >= prevalence - 1e-9
    assert population.contaminated == 1 or (population.contaminated - 1) / size < prevalence


@pytest.mark.parametrize(("size", "prevalence", "contaminated"), [(100, 0.07, 7), (50, 0.05, 3), (10, 0.01, 1)])
def test_a_share_of_a_whole_number_is_not_rounded_up_by_a_hair(size, prevalence, contaminated):
    assert FinitePopulation.at(size, prevalence).contaminated == contaminated


def test_an_aim_out_of_reach_tells_the_most_there_is():
    with pytest.raises(OutOfReach, match=r"reaches 95 in 100; the most is .* at a specificity of"):
        exact_sample_size(Aim(0.95, 0.95), FinitePopulation(20, 1), Performance(0.7, 0.9))


@pytest.mark.parametrize(
    ("call", "names"),
    [
        (
            lambda: exact_sensitivity(41, FinitePopulation(40, 1), Performance()),
            "samples: 41 is more than the 40 of pop",
        ),
        (lambda: exact_sensitivity(4, FinitePopulation(40, 1), Performance(), 5), "cut_point: 5 is more than the 4"),
        (lambda: FinitePopulation(10, 11), "contaminated: 11 is more than the 10 of population_size"),
        (lambda: FinitePopulation(0, 1), "population_size: 0"),
        (lambda: FinitePopulation.at(10, 0.0), "design_prevalence: 0 must be above 0"),
        (lambda: FinitePopulation.at(10.5, 0.1), "population_size: 10.5"),
    ],
)
def test_a_wrong_argument_is_named(call, names):
    with pytest.raises(ArgumentRefused, match=names):
        call()
