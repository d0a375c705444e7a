"""One rate behind presence and absence: P(positive) = 1 - exp(-rate x amount), fitted by greatest likelihood.

The same likelihood serves the most probable number (amount = sample mass in a tube, rate = organisms per gram) and the
detection level (amount = organisms put on, rate = chance to be found per organism).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, inf, log, sqrt

import numpy as np
from scipy.optimize import brentq
from scipy.special import ndtri

from swabwright.detection.statistics.arrays import Array
from swabwright.detection.statistics.binomial import binomial_pmf
from swabwright.detection.statistics.checks import ArgumentRefused, count, positive, some, within

STEP = 4.0
"""Factor by which the bracket of the root is widened."""
MOST_SPAN = 1e30
"""Fold by which the largest amount may exceed the smallest."""
LARGEST_EXPONENT = 700.0
LEAST_INFORMATION = 1e-300


@dataclass(frozen=True)
class Level:
    """One level: so much in each of so many portions, of which so many were positive."""

    amount: float
    portions: int
    positives: int

    def __post_init__(self) -> None:
        positive("amount", self.amount)
        count("portions", self.portions, 1)
        within("positives", self.positives, "portions", self.portions)


@dataclass(frozen=True)
class Fit:
    """The rate of greatest likelihood with its limits; 0 when no portion is positive, infinite when all are.

    log_sd: standard deviation of the natural logarithm of the rate, None at those two ends.
    """

    rate: float
    low: float
    high: float
    log_sd: float | None


def fit(levels: Sequence[Level], level: float) -> Fit:
    """The rate and its limits at `level`.

    The rate solves sum(x a / (1 - exp(-a r))) = sum(n a); ln r is taken as normal with the inverse square root of the
    observed information, r^2 sum(x a^2 e^(-a r) / (1 - e^(-a r))^2). When no portion (or every one) is positive the
    upper (lower) limit is the exact one-sided one.
    """
    some("levels", levels)
    amount, portions, positives = _columns(levels)
    # Amounts near 1 keep doses away from under- and overflow, whatever their unit.
    scale = float(np.exp(np.log(amount).mean()))
    found = _fitted(amount / scale, portions, positives, level)
    return Fit(found.rate / scale, found.low / scale, found.high / scale, found.log_sd)


def _fitted(amount: Array, portions: Array, positives: Array, level: float) -> Fit:
    if positives.sum() == 0:
        return Fit(0.0, 0.0, -log(1 - level) / float(amount @ portions), None)
    if (positives == portions).all():
        return Fit(inf, _rate_of_all(amount, portions, level), inf, None)
    rate = _root(amount, portions, positives)
    log_sd = 1.0 / sqrt(max(_information(amount, positives, rate), LEAST_INFORMATION))
    # Levels far apart, all positive at one and none at the other, leave the rate all but open between them.
    factor = exp(min(float(ndtri((1 + level) / 2)) * log_sd, LARGEST_EXPONENT))
    return Fit(rate, rate / factor, rate * factor, log_sd)


def chances(amount: Array, rate: float) -> Array:
    """P(positive) at each amount."""
    return np.asarray(-np.expm1(-amount * rate))


def rarity(levels: Sequence[Level], rate: float) -> float:
    """The chance of these results over that of the likeliest results at the same rate: below 0.05 they are unusual.

    Source: Jarvis, Wilrich and Wilrich, J Appl Microbiol 2010;109:1660-1667.
    """
    amount, portions, positives = _columns(levels)
    positive_chance = chances(amount, rate)
    likeliest = np.minimum(np.floor((portions + 1) * positive_chance), portions)
    seen = binomial_pmf(positives, portions, positive_chance)
    return float(np.prod(seen / binomial_pmf(likeliest, portions, positive_chance)))


def _columns(levels: Sequence[Level]) -> tuple[Array, Array, Array]:
    table = np.array([(one.amount, one.portions, one.positives) for one in levels], dtype=np.float64)
    if len(set(table[:, 0].tolist())) < len(levels):
        raise ArgumentRefused("levels", "one amount stands twice; put its portions together")
    if table[:, 0].max() > MOST_SPAN * table[:, 0].min():
        raise ArgumentRefused("levels", f"amounts differ more than {MOST_SPAN:g}-fold; check their units")
    return table[:, 0], table[:, 1], table[:, 2]


def _root(amount: Array, portions: Array, positives: Array) -> float:
    def score(log_rate: float) -> float:
        with np.errstate(over="ignore"):
            odds = positives * amount / np.expm1(amount * exp(log_rate))
        return float(odds.sum() - (portions - positives) @ amount)

    # The score falls with the rate; its root is bracketed by steps from the rate of one organism in all portions.
    low = high = -log(float(amount @ portions))
    while score(low) < 0.0:
        low -= log(STEP)
    while score(high) > 0.0:
        high += log(STEP)
    return exp(brentq(score, low, high, xtol=1e-13))


def _information(amount: Array, positives: Array, rate: float) -> float:
    """Observed information of ln rate: only positives tell of the rate's curvature."""
    half = amount * rate / 2
    with np.errstate(over="ignore"):
        bent = np.divide(half, np.sinh(half), out=np.ones_like(half), where=half > 0.0)
    return float((positives * bent**2).sum())


def _rate_of_all(amount: Array, portions: Array, level: float) -> float:
    def excess(log_rate: float) -> float:
        return float(portions @ np.log(chances(amount, exp(log_rate)))) - log(1 - level)

    low = high = -log(float(amount.max()))
    while excess(low) > 0.0:
        low -= log(STEP)
    while excess(high) < 0.0:
        high += log(STEP)
    return exp(brentq(excess, low, high, xtol=1e-13))
