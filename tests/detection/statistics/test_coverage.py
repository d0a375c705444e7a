"""How often intervals hold the truth, by adding up every result that can happen."""

from itertools import product
from math import comb, exp, log, prod

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.detection_level import detection_level
from swabwright.detection.statistics.intervals import METHODS, share_interval
from swabwright.detection.statistics.most_probable_number import most_probable_number
from swabwright.detection.statistics.performance import Performance
from swabwright.detection.statistics.poisson_fit import Level
from swabwright.detection.statistics.pooled_prevalence import pooled_prevalence
from swabwright.detection.statistics.pools import Pool
from swabwright.detection.statistics.posterior import BetaPrior, posterior_known_test
from swabwright.detection.statistics.prevalence import rogan_gladen


def binomial(x, n, p):
    return comb(n, x) * p**x * (1 - p) ** (n - x)


def coverage(samples, share, interval_of):
    """The chance that the interval of what is detected holds the share."""
    held = 0.0
    for detected in range(samples + 1):
        interval = interval_of(detected)
        held += binomial(detected, samples, share) * (interval.low <= share <= interval.high)
    return held


@given(st.integers(1, 80), st.floats(0.001, 0.999), st.sampled_from([0.8, 0.95, 0.99]))
def test_the_exact_interval_never_covers_less_than_its_level(samples, share, level):
    held = coverage(samples, share, lambda x: share_interval(x, samples, level, "clopper-pearson"))
    assert held >= level - 1e-9


@pytest.mark.parametrize("method", list(METHODS))
def test_every_interval_covers_about_its_level_in_the_mean(method):
    shares = [(n + 0.5) / 60 for n in range(60)]
    covered = [coverage(40, p, lambda x: share_interval(x, 40, 0.95, method)) for p in shares]
    assert sum(covered) / len(covered) == pytest.approx(0.955, abs=0.025)


@given(st.floats(0.02, 0.5), st.floats(0.6, 1.0), st.floats(0.8, 1.0))
def test_allowing_for_a_known_test_keeps_the_exact_coverage(prevalence, se, sp):
    test = Performance(se, sp)
    apparent, held = test.apparent(prevalence), 0.0
    for detected in range(31):
        interval = rogan_gladen(detected, 30, test, 0.9, "clopper-pearson").interval
        inside = interval.low - 1e-12 <= prevalence <= interval.high + 1e-12
        held += binomial(detected, 30, apparent) * inside
    assert held >= 0.9 - 1e-9


@given(st.integers(1, 12), st.floats(0.01, 0.4))
def test_pools_keep_the_exact_coverage(size, prevalence):
    pool, held = Pool(size, Performance()), 0.0
    for detected in range(21):
        interval = pooled_prevalence(detected, 20, pool, 0.9, "clopper-pearson").interval
        inside = interval.low - 1e-12 <= prevalence <= interval.high + 1e-12
        held += binomial(detected, 20, 1 - (1 - prevalence) ** size) * inside
    assert held >= 0.9 - 1e-9


def all_tubes(tubes, amounts, number):
    """Every result of the tubes, with its chance at a true number of organisms."""
    for grew in product(range(tubes + 1), repeat=len(amounts)):
        chances = (binomial(x, tubes, 1 - exp(-amount * number)) for x, amount in zip(grew, amounts, strict=True))
        yield [Level(a, tubes, x) for a, x in zip(amounts, grew, strict=True)], prod(chances)


@pytest.mark.parametrize("number", [2.0, 5.0, 20.0, 80.0, 300.0])
def test_the_most_probable_number_covers_about_its_level(number):
    held = 0.0
    for tubes, chance in all_tubes(5, (0.1, 0.01, 0.001), number):
        interval = most_probable_number(tubes, 0.95).interval
        held += chance * (interval.low <= number <= interval.high)
    assert 0.93 <= held <= 1.0


@pytest.mark.parametrize("share", [0.3, 0.6, 1.0])
def test_the_half_level_covers_about_its_level(share):
    truth, held, told = log(2) / share, 0.0, 0.0
    for portions, chance in all_tubes(10, (0.6, 2.5), share):
        try:
            interval = detection_level(portions, 0.9).interval
        except ArgumentRefused:
            continue
        told += chance
        held += chance * (interval.low <= truth <= interval.high)
    assert told > 0.99
    assert held / told == pytest.approx(0.9, abs=0.04)


@settings(max_examples=5)
@given(st.floats(0.6, 1.0), st.floats(0.9, 1.0))
def test_a_posterior_covers_its_level_in_the_mean_over_its_prior(se, sp):
    test, held = Performance(se, sp), []
    intervals = [posterior_known_test(x, 20, test, BetaPrior(), 0.8).interval for x in range(21)]
    for prevalence in ((n + 0.5) / 200 for n in range(200)):
        chances = [binomial(x, 20, test.apparent(prevalence)) for x in range(21)]
        inside = [interval.low <= prevalence <= interval.high for interval in intervals]
        held.append(sum(chance for chance, holds in zip(chances, inside, strict=True) if holds))
    assert sum(held) / len(held) == pytest.approx(0.8, abs=0.01)
