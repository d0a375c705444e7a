"""Pooled samples: sensitivity, size and prevalence."""

from math import comb

import pytest
from builders.brute_force import binomial_above, first_that_reaches
from hypothesis import given
from hypothesis import strategies as st

from swabwright.detection.statistics.aim import Aim
from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.intervals import share_interval
from swabwright.detection.statistics.large import large_sample_size, large_sensitivity
from swabwright.detection.statistics.performance import Performance
from swabwright.detection.statistics.poisson_fit import Level
from swabwright.detection.statistics.pooled_prevalence import mixed_pools_prevalence, pooled_prevalence
from swabwright.detection.statistics.pools import Pool, pooled_sample_size, pooled_sensitivity

TESTS = st.builds(Performance, st.floats(0.6, 1.0), st.floats(0.6, 1.0))
SHARES = st.floats(0.01, 0.5)


def positive_pool(prevalence, pool):
    """The chance of a positive pool by the number of contaminated units in it."""
    chances = (comb(pool.size, k) * prevalence**k * (1 - prevalence) ** (pool.size - k) for k in range(pool.size + 1))
    none, *some = chances
    return none * (1 - pool.test.unit_specificity) + sum(some) * pool.test.unit_sensitivity


@given(st.integers(1, 12), TESTS, SHARES, st.integers(4, 40), st.integers(0, 3))
def test_sensitivity_is_that_of_counting_contaminated_units_in_each_pool(size, test, prevalence, pools, cut_point):
    pool = Pool(size, test)
    counted = binomial_above(cut_point, pools, positive_pool(prevalence, pool))
    assert pooled_sensitivity(pools, prevalence, pool, cut_point).value == pytest.approx(counted, abs=1e-9)


@given(TESTS, SHARES, st.integers(1, 80))
def test_a_pool_of_one_is_a_sample(test, prevalence, samples):
    pooled, single = (
        pooled_sensitivity(samples, prevalence, Pool(1, test)),
        large_sensitivity(samples, prevalence, test),
    )
    assert pooled.value == pytest.approx(single.value, abs=1e-12)


@given(st.integers(2, 10), SHARES)
def test_perfect_pools_hold_as_many_units_as_single_samples_need(size, prevalence):
    pools = pooled_sample_size(Aim(0.95), prevalence, Pool(size, Performance())).value
    units = large_sample_size(Aim(0.95), prevalence, Performance()).value
    assert units <= pools * size < units + size


def test_the_search_finds_the_first_number_of_pools_that_any_cut_point_allows():
    aim, pool = Aim(0.9, 0.9, None, 80), Pool(5, Performance(0.9, 0.97))
    present, absent = positive_pool(0.03, pool), 0.03

    def reach(pools, cut_point):
        return binomial_above(cut_point, pools, present), 1 - binomial_above(cut_point, pools, absent)

    assert pooled_sample_size(aim, 0.03, pool).value == first_that_reaches(aim, reach, range(1, 81))


def test_the_sentence_speaks_of_pools():
    assert pooled_sensitivity(10, 0.02, Pool(5, Performance())).sentence.startswith("10 5-unit pools give at least one")


@given(st.integers(1, 12), TESTS, st.floats(0.01, 0.4))
def test_prevalence_of_units_is_what_would_give_so_many_pools(size, test, prevalence):
    pool, pools = Pool(size, test), 10**9
    detected = round(positive_pool(prevalence, pool) * pools)
    value = pooled_prevalence(detected, pools, pool, 0.95, "wilson").value
    # The share of pools is rounded to a billionth; in large pools nearly all are positive and it is felt more.
    assert value == pytest.approx(prevalence, abs=1e-5)


@given(st.integers(0, 30), st.integers(1, 10))
def test_pools_of_one_size_have_one_prevalence_whichever_way_it_is_computed(detected, size):
    plain = pooled_prevalence(detected, 30, Pool(size, Performance()), 0.95, "wilson").value
    assert mixed_pools_prevalence([Level(size, 30, detected)], 0.95).value == pytest.approx(plain, abs=1e-9)


def test_pools_of_one_have_the_interval_of_single_samples():
    of_pools = pooled_prevalence(4, 50, Pool(1, Performance()), 0.95, "jeffreys").interval
    single = share_interval(4, 50, 0.95, "jeffreys")
    assert (of_pools.low, of_pools.high) == pytest.approx((single.low, single.high))


def test_no_pool_detected_leaves_an_exact_upper_limit():
    interval = mixed_pools_prevalence([Level(5, 20, 0), Level(10, 4, 0)], 0.95).interval
    assert interval.low == 0.0
    assert (1 - interval.high) ** (5 * 20 + 10 * 4) == pytest.approx(0.05)


@pytest.mark.parametrize(
    ("call", "names"),
    [
        (lambda: Pool(0, Performance()), "pool_size: 0"),
        (lambda: pooled_sensitivity(0, 0.1, Pool(5, Performance())), "pools: 0"),
        (lambda: pooled_sensitivity(3, 0.1, Pool(5, Performance()), 4), "cut_point: 4 is more than the 3 of pools"),
        (lambda: pooled_prevalence(6, 5, Pool(5, Performance()), 0.95, "wilson"), "detected: 6 is more than the 5"),
        (lambda: mixed_pools_prevalence([], 0.95), "levels: give at least one"),
        (lambda: mixed_pools_prevalence([Level(5, 3, 1), Level(5, 2, 0)], 0.95), "levels: one amount stands twice"),
    ],
)
def test_a_wrong_argument_is_named(call, names):
    with pytest.raises(ArgumentRefused, match=names):
        call()
