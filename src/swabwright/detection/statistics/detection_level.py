"""Probability of detection (POD) and the level detected half of the time (LOD50), from inoculated portions."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, expm1, inf, log, log1p

import numpy as np
from scipy.optimize import minimize_scalar
from scipy.special import chdtrc, xlogy

from swabwright.detection.statistics.answer import Answer, Interval, per_100, shown
from swabwright.detection.statistics.checks import ArgumentRefused, inner_probability, positive
from swabwright.detection.statistics.poisson_fit import MOST_SPAN, Level, chances, fit

LOG_SLOPES = (-3.0, 3.0)
"""Natural logarithms of the slopes between which the free slope is looked for."""
EDGE = 1e-3
"""How near to the steepest slope the best one counts as without end."""


@dataclass(frozen=True)
class DetectionLevel:
    """The level detected half of the time, and the fitted curve behind it."""

    value: float
    """LOD50, in organisms (or their unit) per portion."""
    interval: Interval
    sensitivity: float
    """F of POD = 1 - exp(-F d): chance to be found per organism, 1 when every organism would be found."""
    sensitivity_interval: Interval
    slope: float
    """The slope of the complementary log-log line when it is not held at 1; infinite when no finite one fits best."""
    slope_p: float
    """Likelihood-ratio chance of a slope so far from 1 when it is 1; small values speak against the curve."""
    sentence: str

    def level_at(self, detection: float) -> Answer:
        """The level detected with probability `detection`, above 0 and below 1, with its interval: 0.95 gives LOD95."""
        inner_probability("detection", detection)
        low, value, high = (-log1p(-detection) / f for f in (self._high, self.sensitivity, self._low))
        interval = Interval(low, high, self.interval.level, self.interval.method)
        between = f"between {shown(low)} and {shown(high)} ({interval.method}, level {interval.level:g})"
        said = f"Portions with {shown(value)} organisms are detected in {per_100(detection)} cases, {between}."
        return Answer(value, said, interval)

    def detected_at(self, amount: float) -> Answer:
        """The probability of detection of a portion with `amount` organisms, above 0, with its interval."""
        positive("amount", amount)
        low, value, high = (-expm1(-f * amount) for f in (self._low, self.sensitivity, self._high))
        interval = Interval(low, high, self.interval.level, self.interval.method)
        return Answer(value, f"A portion with {shown(amount)} is detected with a chance of {per_100(value)}.", interval)

    @property
    def _low(self) -> float:
        return self.sensitivity_interval.low

    @property
    def _high(self) -> float:
        return self.sensitivity_interval.high


def detection_level(levels: Sequence[Level], level: float) -> DetectionLevel:
    """LOD50 with its interval, from portions inoculated at one or more levels.

    levels: organisms per portion (above 0), portions, portions detected. Complementary log-log model with the
    logarithm of the level as offset, ln(-ln(1 - POD)) = ln F + ln d; LOD50 = ln 2 / F. Source: Wilrich and Wilrich, J
    AOAC Int 2009;92:1763-1772. Errors: ArgumentRefused, also when no portion or every portion was detected, which
    leaves the level open at one end.
    """
    inner_probability("level", level)
    found = fit(levels, level)
    if found.rate in (0.0, inf):
        raise ArgumentRefused("levels", _open_end(found.rate, found.low, found.high))
    half = log(2.0)
    interval = Interval(half / found.high, half / found.low, level, "log-normal")
    slope, slope_p = _free_slope(levels, found.rate)
    of_f = Interval(found.low, found.high, level, "log-normal")
    value = half / found.rate
    between = f"between {shown(interval.low)} and {shown(interval.high)} (log-normal, level {level:g})"
    sentence = f"Portions with {shown(value)} organisms are detected half of the time, {between}"
    doubt = f"; the results hardly fit the curve (slope {slope:.3g}, p {slope_p:.2g})" if slope_p < 1 - level else ""
    return DetectionLevel(value, interval, found.rate, of_f, slope, slope_p, f"{sentence}{doubt}.")


def _open_end(rate: float, low: float, high: float) -> str:
    if rate == 0.0:
        return f"nothing was detected; the half level lies above {shown(log(2) / high)}. Test higher levels too"
    return f"every portion was detected; the half level lies below {shown(log(2) / low)}. Test lower levels too"


def _free_slope(levels: Sequence[Level], rate: float) -> tuple[float, float]:
    """The slope of greatest likelihood, and the chance of one as far from 1 by the likelihood ratio."""
    if len({one.amount for one in levels}) < 2:
        return 1.0, 1.0

    def missing(log_slope: float) -> float:
        return -_log_likelihood(*_at_slope(levels, exp(log_slope)))

    steepest = _steepest(levels)
    found = minimize_scalar(missing, bounds=(LOG_SLOPES[0], steepest), method="bounded")
    gained = -float(found.fun) - _log_likelihood(levels, rate)
    slope = inf if found.x > steepest - EDGE else exp(float(found.x))
    return slope, float(chdtrc(1.0, max(0.0, 2.0 * gained)))


def _steepest(levels: Sequence[Level]) -> float:
    """The largest logarithm of a slope that keeps the raised levels within the span that a fit takes."""
    amounts = [one.amount for one in levels]
    return min(LOG_SLOPES[1], log(log(MOST_SPAN) / log(max(amounts) / min(amounts))) - EDGE)


def _at_slope(levels: Sequence[Level], slope: float) -> tuple[list[Level], float]:
    """Levels raised to a slope, scaled to the middle one so that powers stay small, and the best rate for them."""
    middle = float(np.exp(np.mean(np.log([one.amount for one in levels]))))
    raised = [Level((one.amount / middle) ** slope, one.portions, one.positives) for one in levels]
    return raised, fit(raised, 0.5).rate


def _log_likelihood(levels: Sequence[Level], rate: float) -> float:
    amount = np.array([one.amount for one in levels])
    portions = np.array([one.portions for one in levels])
    positives = np.array([one.positives for one in levels])
    missed = (portions - positives) @ (amount * rate)
    return float(xlogy(positives, chances(amount, rate)).sum() - missed)
