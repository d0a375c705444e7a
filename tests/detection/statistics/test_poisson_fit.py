"""The rate behind presence and absence, and its limits."""

from math import exp, inf, isinf, log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from swabwright.detection.statistics.poisson_fit import Level, chances, fit, rarity


@st.composite
def studies(draw):
    amounts = draw(st.lists(st.floats(0.001, 100.0), min_size=1, max_size=5, unique=True))
    portions = [draw(st.integers(1, 30)) for _ in amounts]
    return [Level(a, n, draw(st.integers(0, n))) for a, n in zip(amounts, portions, strict=True)]


def log_likelihood(levels, rate):
    return sum(
        (one.positives * log(-np.expm1(-one.amount * rate)) if one.positives else 0.0)
        - (one.portions - one.positives) * one.amount * rate
        for one in levels
    )


@given(studies())
def test_the_rate_lies_within_its_limits_and_at_an_end_only_when_all_are_alike(levels):
    found, positives = fit(levels, 0.9), sum(one.positives for one in levels)
    assert found.low <= found.rate <= found.high
    assert (found.rate == 0.0) == (positives == 0)
    assert isinf(found.rate) == (positives == sum(one.portions for one in levels))


@given(studies())
def test_the_rate_is_that_of_an_independent_maximiser(levels):
    found = fit(levels, 0.9)
    if found.rate in (0.0, inf):
        return
    around = (log(found.rate) - 2, log(found.rate) + 2)
    best = minimize_scalar(lambda x: -log_likelihood(levels, exp(x)), bounds=around, method="bounded").x
    assert log_likelihood(levels, found.rate) >= log_likelihood(levels, exp(best)) - 1e-9


@given(studies())
def test_the_deviation_is_the_curvature_of_the_likelihood(levels):
    found = fit(levels, 0.9)
    if found.log_sd is None or found.log_sd > 3:
        return
    middle, step = log(found.rate), 1e-3
    points = [log_likelihood(levels, exp(middle + shift)) for shift in (-step, 0.0, step)]
    curvature = -(points[0] - 2 * points[1] + points[2]) / step**2
    assert found.log_sd == pytest.approx(curvature**-0.5, rel=1e-2)


@given(studies())
def test_a_higher_level_widens_the_limits(levels):
    narrow, wide = fit(levels, 0.8), fit(levels, 0.99)
    assert wide.low <= narrow.low
    assert narrow.high <= wide.high


@given(studies())
def test_the_order_of_levels_does_not_matter(levels):
    there, back = fit(levels, 0.9), fit(levels[::-1], 0.9)
    if there.rate not in (0.0, inf):
        assert back.rate == pytest.approx(there.rate)


@given(studies())
def test_a_level_split_in_two_equal_halves_would_say_the_same(levels):
    whole = fit([Level(one.amount, 2 * one.portions, 2 * one.positives) for one in levels], 0.9)
    half = fit(levels, 0.9)
    if half.log_sd is not None and whole.log_sd is not None:
        assert whole.rate == pytest.approx(half.rate)
        assert whole.log_sd == pytest.approx(half.log_sd / 2**0.5)


@given(studies(), st.floats(0.01, 10.0))
def test_rarity_is_a_share_and_one_for_the_likeliest_results(levels, rate):
    assert 0.0 <= rarity(levels, rate) <= 1.0 + 1e-12
    amounts, portions = np.array([one.amount for one in levels]), np.array([one.portions for one in levels])
    likeliest = np.minimum(np.floor((portions + 1) * chances(amounts, rate)), portions).astype(int).tolist()
    best = [Level(one.amount, one.portions, x) for one, x in zip(levels, likeliest, strict=True)]
    assert rarity(best, rate) == pytest.approx(1.0)


@given(st.floats(0.001, 1000.0), st.floats(0.0, 50.0))
def test_a_chance_rises_from_nothing_with_the_amount(amount, rate):
    small, large = chances(np.array([amount, 2 * amount]), rate)
    assert 0.0 <= small <= large <= 1.0


@pytest.mark.parametrize("apart", [1e3, 1e6, 1e12])
def test_levels_far_apart_without_any_in_between_leave_the_rate_wide_open(apart):
    found = fit([Level(1 / apart, 3, 0), Level(apart, 3, 3)], 0.95)
    assert 1 / apart < found.rate < apart
    assert found.low < found.rate / apart
    assert found.high > found.rate * apart


@given(studies(), st.sampled_from([1e-200, 1e-30, 1e30, 1e200]))
def test_a_unit_of_any_size_gives_the_same_fit(levels, factor):
    found, other = fit(levels, 0.9), fit([Level(o.amount * factor, o.portions, o.positives) for o in levels], 0.9)
    assert other.log_sd == (None if found.log_sd is None else pytest.approx(found.log_sd, rel=1e-6))
    if found.log_sd is not None:
        assert other.rate * factor == pytest.approx(found.rate)
