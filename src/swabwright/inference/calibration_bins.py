"""Reliability: of places given a chance of 30 in 100, whether 30 in 100 were niches."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from swabwright.inference.calibration import Array, Estimate, Forecast, mean_of

EDGES = (0.0, 0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.97, 1.0)
"""Bounds of the bins, closer together where most chances lie."""
LEAST_FORECASTS = 50
"""A bin with fewer forecasts joins its neighbour."""
REPLAYS = 1000


@dataclass(frozen=True)
class Bin:
    """Places whose chance of a niche lies between two bounds: the mean chance, and the share that were niches."""

    low: float
    high: float
    forecast: float
    observed: Estimate

    @property
    def error(self) -> float:
        """How far the chance said was off."""
        return abs(self.observed.value - self.forecast)


@dataclass(frozen=True)
class LargestError:
    """The largest error of any bin, and what a perfectly calibrated engine would show by chance."""

    value: float
    by_chance_mean: float
    by_chance_high: float
    """Exceeded by chance five times in a hundred."""


class _Each(NamedTuple):
    """Every chance of every investigation, one after the other."""

    chance: Array
    truth: Array
    investigation: npt.NDArray[np.int64]


def reliability(forecasts: Sequence[Forecast]) -> tuple[Bin, ...]:
    """Chances of a niche in bins of at least fifty, each with what was true."""
    each = _each(forecasts)
    clusters = [forecasts[at].cluster for at in each.investigation.tolist()]
    return tuple(_bin(each, clusters, (low, high)) for low, high in _bounds(each.chance))


def largest_error(forecasts: Sequence[Forecast], seed: int = 1) -> LargestError:
    """The largest error over the bins, beside truths drawn from the chances themselves in the same bins."""
    each = _each(forecasts)
    place = _place(each.chance, _bounds(each.chance))
    said = np.bincount(place, each.chance)
    sizes = np.bincount(place)
    random = np.random.default_rng(seed)
    replayed = [
        _worst(np.bincount(place, random.random(len(each.chance)) < each.chance) - said, sizes) for _ in range(REPLAYS)
    ]
    seen = _worst(np.bincount(place, each.truth) - said, sizes)
    return LargestError(seen, float(np.mean(replayed)), float(np.quantile(replayed, 0.95)))


def _worst(off: npt.NDArray[Any], sizes: npt.NDArray[Any]) -> float:
    return float(np.abs(off[sizes > 0] / sizes[sizes > 0]).max(initial=0.0))


def _each(forecasts: Sequence[Forecast]) -> _Each:
    truths = []
    for one in forecasts:
        truth = np.zeros(len(one.marginal))
        truth[list(one.niches)] = 1.0
        truths.append(truth)
    numbers = [np.full(len(one.marginal), at, np.int64) for at, one in enumerate(forecasts)]
    return _Each(np.concatenate([one.marginal for one in forecasts]), np.concatenate(truths), np.concatenate(numbers))


def _bounds(chance: Array) -> list[tuple[float, float]]:
    """Bins from the highest chance down, joined until each holds enough; what is left joins the one above."""
    bounds: list[tuple[float, float]] = []
    high = EDGES[-1]
    for low in reversed(EDGES[:-1]):
        if int(((chance > low) & (chance <= high)).sum()) >= LEAST_FORECASTS:
            bounds.append((low, high))
            high = low
    # chances of exactly 0 belong to the lowest bin
    if bounds:
        bounds[-1] = (0.0, bounds[-1][1])
    return bounds[::-1] or [(0.0, 1.0)]


def _place(chance: Array, bounds: Sequence[tuple[float, float]]) -> npt.NDArray[np.int64]:
    return np.searchsorted([high for _, high in bounds[:-1]], chance, side="left").astype(np.int64)


def _bin(each: _Each, clusters: Sequence[str], bounds: tuple[float, float]) -> Bin:
    low, high = bounds
    inside = np.flatnonzero((each.chance > low if low > 0.0 else each.chance >= 0.0) & (each.chance <= high))
    observed = mean_of(each.truth[inside].tolist(), [clusters[at] for at in inside.tolist()])
    return Bin(low, high, float(each.chance[inside].mean()), observed)
