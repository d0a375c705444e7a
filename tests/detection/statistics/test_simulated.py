"""The formulas against drawing it all with dice: units, pools, groups, strata and rounds that are really sampled."""

import numpy as np
import pytest

from swabwright.detection.statistics.finite import FinitePopulation, exact_sensitivity
from swabwright.detection.statistics.freedom import freedom_over_rounds
from swabwright.detection.statistics.large import large_sensitivity
from swabwright.detection.statistics.performance import Performance
from swabwright.detection.statistics.pools import Pool, pooled_sensitivity
from swabwright.detection.statistics.risk import Stratum, effective_probabilities, risk_sensitivity
from swabwright.detection.statistics.two_stage import two_stage_sensitivity
from swabwright.detection.statistics.without_replacement import detection_chance

DRAWS = 40_000
SIGMAS = 4.5
"""So wide that a right formula fails once in a hundred thousand seeds; the seed is fixed all the same."""
TEST = Performance(0.8, 0.97)


@pytest.fixture
def dice():
    return np.random.default_rng(20_260_304)


def agrees(shown, value):
    """True when a simulated share lies as near to a computed one as so many draws allow."""
    return abs(shown.mean() - value) <= SIGMAS * (value * (1 - value) / shown.size) ** 0.5


def shuffled(dice, size, contaminated, samples):
    """Which of `samples` units drawn without replacement are contaminated, for every draw."""
    order = np.argsort(dice.random((DRAWS, size)), axis=1)[:, :samples]
    return order < contaminated


def reported(dice, contaminated, test):
    """What the test says of every unit."""
    return dice.random(contaminated.shape) < np.where(contaminated, test.unit_sensitivity, test.false_positive)


@pytest.mark.parametrize(("samples", "cut_point"), [(10, 0), (25, 1), (40, 3)])
def test_a_finite_population_sampled_by_shuffling(dice, samples, cut_point):
    positives = reported(dice, shuffled(dice, 50, 5, samples), TEST).sum(axis=1)
    assert agrees(positives > cut_point, exact_sensitivity(samples, FinitePopulation(50, 5), TEST, cut_point).value)


@pytest.mark.parametrize(("samples", "cut_point"), [(20, 0), (60, 3)])
def test_a_large_population_sampled_by_dice(dice, samples, cut_point):
    positives = reported(dice, dice.random((DRAWS, samples)) < 0.06, TEST).sum(axis=1)
    assert agrees(positives > cut_point, large_sensitivity(samples, 0.06, TEST, cut_point).value)


def test_pools_filled_with_units(dice):
    holds_one = (dice.random((DRAWS, 12, 5)) < 0.03).any(axis=2)
    positives = reported(dice, holds_one, TEST).sum(axis=1)
    assert agrees(positives > 1, pooled_sensitivity(12, 0.03, Pool(5, TEST), 1).value)


def test_groups_drawn_and_units_drawn_in_them(dice):
    groups = shuffled(dice, 12, 3, 5)
    units = np.argsort(dice.random((DRAWS, 5, 20)), axis=2)[:, :, :6] < 4
    found = (groups[:, :, None] & units & (dice.random(units.shape) < 0.8)).any(axis=(1, 2))
    chance = detection_chance(6, FinitePopulation(20, 4), 0.8, "exact")
    assert agrees(found, two_stage_sensitivity([chance] * 5, 0.25, 12).value)


def test_strata_drawn_by_their_effective_probabilities(dice):
    strata = (Stratum("drains", 5, 0.1, 0.8), Stratum("others", 1, 0.9, 0.6))
    found = np.zeros(DRAWS, dtype=bool)
    for one, chance, samples in zip(strata, effective_probabilities(strata, 0.02), (12, 20), strict=True):
        contaminated = dice.random((DRAWS, samples)) < chance
        found |= (contaminated & (dice.random(contaminated.shape) < one.unit_sensitivity)).any(axis=1)
    assert agrees(found, risk_sensitivity(strata, (12, 20), 0.02, finite=False).value)


def test_the_whole_population_of_strata_carries_the_design_prevalence(dice):
    strata = (Stratum("drains", 4, 0.2), Stratum("wheels", 2, 0.3), Stratum("others", 1, 0.5))
    kind = dice.choice(3, size=DRAWS, p=[one.population_proportion for one in strata])
    contaminated = dice.random(DRAWS) < np.array(effective_probabilities(strata, 0.05))[kind]
    assert agrees(contaminated, 0.05)


@pytest.mark.parametrize("moment", ["before", "after"])
def test_plants_followed_through_rounds_until_something_is_detected(dice, moment):
    free, silent = dice.random(DRAWS) < 0.4, np.ones(DRAWS, dtype=bool)
    for sensitivity in (0.5, 0.7, 0.3):
        free &= (dice.random(DRAWS) >= 0.05) | (moment == "after")
        silent &= free | (dice.random(DRAWS) >= sensitivity)
        free &= (dice.random(DRAWS) >= 0.05) | (moment == "before")
    assert agrees(free[silent], freedom_over_rounds(0.4, (0.5, 0.7, 0.3), (0.05,), moment).value)
