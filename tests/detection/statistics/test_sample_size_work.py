"""Which statistic answers which question."""

import pytest

from swabwright.detection.statistics.aim import Aim, reaches
from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.finite import FinitePopulation, exact_sensitivity
from swabwright.detection.statistics.performance import Performance
from swabwright.detection.statistics.pools import Pool, pooled_sensitivity
from swabwright.detection.statistics.risk import Stratum, risk_sensitivity
from swabwright.detection.statistics.trials import Trial, reached, smallest
from swabwright.detection.statistics.without_replacement import detection_chance
from swabwright.work.sample_size import by_risk, in_finite_population, in_large_population, in_pools

SITES = FinitePopulation(120, 24)
SLOPPY = Performance(0.8, 0.97)
LARGE = (Stratum("drains", 5, 0.1), Stratum("others", 1, 0.9))
SMALL = (Stratum("drains", 5, 0.1, 1.0, 20), Stratum("others", 1, 0.9, 1.0, 180))


def test_a_number_found_for_a_large_population_reaches_its_aim_when_asked_back():
    found = in_large_population(None, Aim(0.9, 0.9), 0.1, SLOPPY)
    asked = in_large_population(found.value, Aim(0.9, 0.9, found.cut_point), 0.1, SLOPPY)
    assert asked.value == pytest.approx(found.system_sensitivity)


@pytest.mark.parametrize("test", [Performance(0.8), SLOPPY])
def test_a_number_found_for_a_finite_population_reaches_its_aim_when_asked_back(test):
    found = in_finite_population(None, Aim(0.9, 0.9), SITES, test, calculation="exact")
    again = Aim(0.9, 0.9, found.cut_point)
    assert in_finite_population(found.value, again, SITES, test, calculation="exact").value >= 0.9


def test_perfect_specificity_takes_the_calculation_asked_for():
    about = in_finite_population(30, Aim(0.9), SITES, Performance(0.8), calculation="approximate").value
    assert about == detection_chance(30, SITES, 0.8, "approximate")
    assert about < in_finite_population(30, Aim(0.9), SITES, Performance(0.8), calculation="exact").value


@pytest.mark.parametrize(("test", "cut_point"), [(SLOPPY, None), (Performance(0.8), 1)])
def test_false_positives_or_a_cut_point_are_never_approximated(test, cut_point):
    with pytest.raises(ArgumentRefused, match="calculation: false positives or a cut-point"):
        in_finite_population(30, Aim(0.9, 0.9, cut_point), SITES, test, calculation="approximate")


def test_a_cut_point_of_a_perfect_test_is_computed_exactly():
    value = in_finite_population(30, Aim(0.9, cut_point=1), SITES, Performance(), calculation="exact").value
    assert value == exact_sensitivity(30, SITES, Performance(), 1).value


def test_pools_are_counted_not_units():
    pool = Pool(5, Performance(0.9))
    found = in_pools(None, Aim(0.9), 0.05, pool)
    assert in_pools(found.value, Aim(0.9), 0.05, pool).value >= 0.9
    assert pooled_sensitivity(found.value - 1, 0.05, pool).value < 0.9


def test_strata_with_sizes_are_taken_as_small_and_without_as_large():
    small = by_risk(0.9, SMALL, 0.02, samples=(10, 10), surveillance_proportions=())
    large = by_risk(0.9, LARGE, 0.02, samples=(10, 10), surveillance_proportions=())
    assert small.value == risk_sensitivity(SMALL, (10, 10), 0.02, finite=True).value
    assert large.value == risk_sensitivity(LARGE, (10, 10), 0.02, finite=False).value
    assert small.value > large.value


def test_surveillance_proportions_ask_for_a_number():
    found = by_risk(0.9, LARGE, 0.02, samples=(), surveillance_proportions=(0.8, 0.2))
    asked = by_risk(0.9, LARGE, 0.02, samples=found.samples, surveillance_proportions=())
    assert asked.value == pytest.approx(found.system_sensitivity)


def test_strata_without_numbers_or_proportions_are_refused():
    with pytest.raises(ArgumentRefused, match="surveillance_proportions: 0 shares for 2 strata"):
        by_risk(0.9, LARGE, 0.02, samples=(), surveillance_proportions=())


def test_an_aim_is_met_by_a_hair_less_but_not_by_more():
    aim = Aim(0.95, 0.9)
    assert aim.met(0.95 - 1e-13, 0.9)
    assert not aim.met(0.95 - 1e-6, 0.9)
    assert not aim.met(0.99, 0.89)
    assert reaches(0.5, 0.5)


@pytest.mark.parametrize("cut_point", [1, 3, 10])
def test_a_fixed_cut_point_is_searched_beyond_any_first_guess(cut_point):
    trial = Trial(0.004)
    found = smallest(trial, Aim(0.99, cut_point=cut_point))
    assert found.samples > 1000
    assert reached(trial, found.samples - 1, cut_point).system_sensitivity < 0.99 <= found.system_sensitivity
