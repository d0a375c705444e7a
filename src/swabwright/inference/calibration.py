"""Forecasts of where it lives beside known truths: how often the sets held it, how good the chances were."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log, sqrt
from statistics import fmean

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
LEAST_SHARE = 1e-6
"""A share below this counts as this much in the log score, so that one surprise cannot outweigh all else."""


@dataclass(frozen=True)
class Forecast:
    """What was believed of one investigation whose truth is known.

    share: (sources,), summing to 1, a pair counted half at each niche. marginal: (sources,), the chance of a niche at
    each. niches: where they truly are. cluster: the plant, because truths of one plant are alike.
    """

    share: Array
    marginal: Array
    niches: tuple[int, ...]
    cluster: str


@dataclass(frozen=True)
class Estimate:
    """A mean over investigations, its standard error clustered by plant, and how many investigations."""

    value: float
    error: float
    count: int


def mean_of(values: Sequence[float], clusters: Sequence[str]) -> Estimate:
    """The mean with the larger of two errors: truths of one plant alike, or all of them drawn apart.

    Source of the clustered error: Liang and Zeger, Biometrika 1986;73:13.
    """
    own = np.asarray(values, np.float64)
    count = len(own)
    mean = float(own.mean()) if count else float("nan")
    if count < 2:
        return Estimate(mean, float("nan"), count)
    residual = own - mean
    _, place = np.unique(np.asarray(clusters), return_inverse=True)
    sums = np.bincount(place, residual)
    groups = len(sums)
    # few clusters can look more alike than chance would have them
    apart = float((residual**2).sum()) / (count - 1) / count
    together = groups / (groups - 1) * float((sums**2).sum()) / count**2 if groups > 1 else 0.0
    return Estimate(mean, sqrt(max(apart, together)), count)


def covered(forecast: Forecast, level: float) -> float:
    """Chance that the likeliest places, together `level` of the shares, hold a niche picked at random from the true.

    The place at the edge belongs to the set with the chance that makes the set's share exactly `level`, which is
    counted instead of drawn (randomised sets: Geyer and Meeden, Statistical Science 2005;20:358).
    """
    return fmean(_held(forecast.share, niche, level) for niche in forecast.niches)


def _held(share: Array, niche: int, level: float) -> float:
    own = float(share[niche])
    before = float(share[share > own].sum())
    alike = float(share[share == own].sum())
    # places with the same share are in the set alike, so no order of sites decides
    if alike <= 0.0:
        return 0.0
    return min(1.0, max(0.0, (level - before) / alike))


def coverage(forecasts: Sequence[Forecast], level: float) -> Estimate:
    """How often sets of so much probability held a randomly picked niche; right if it is `level`."""
    return mean_of([covered(one, level) for one in forecasts], _clusters(forecasts))


def brier(forecasts: Sequence[Forecast]) -> Estimate:
    """Mean over investigations of the sum over places of (chance of a niche - truth) squared; lower is better.

    Source: Brier, Monthly Weather Review 1950;78:1.
    """
    return mean_of([_squares(one) for one in forecasts], _clusters(forecasts))


def log_score(forecasts: Sequence[Forecast]) -> Estimate:
    """Mean of -ln of the share of a randomly picked true niche; lower is better.

    Source: Good, Journal of the Royal Statistical Society B 1952;14:107.
    """
    lost = [-fmean(log(max(LEAST_SHARE, float(one.share[at]))) for at in one.niches) for one in forecasts]
    return mean_of(lost, _clusters(forecasts))


def _squares(one: Forecast) -> float:
    truth = np.zeros(len(one.marginal))
    truth[list(one.niches)] = 1.0
    return float(((one.marginal - truth) ** 2).sum())


def _clusters(forecasts: Sequence[Forecast]) -> list[str]:
    return [one.cluster for one in forecasts]
