"""What the results of each site say, as flat arrays for the compiled loops: one log ratio a site and hypothesis.

The ratio is the chance of a site's results with these expected cells over their chance without a cell. It is 1 where
nothing reaches the site, so a hypothesis only has entries at the sites that it reaches.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from math import log
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from swabwright.detection.factor import FURTHEST_Z, POINTS
from swabwright.detection.model import DetectionModel
from swabwright.detection.observed import Observed
from swabwright.detection.phi import phi_table

Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
NO_COUNT = -1
_Row = tuple[bool, float, float]
"""Whether the table serves a site, and the constant and slope by which Phi or the integral enters."""


class SiteSpec(NamedTuple):
    """Every site's results without their cells; n sites, D results that need the integral."""

    by_table: npt.NDArray[np.bool_]
    """(n,) whether the ratio is (constant + slope x Phi(cells)) / nothing; else it is an integral."""
    constant: Array
    slope: Array
    ln_nothing: Array
    """(n,) log of the chance of the results without a cell."""
    first: IntArray
    """(n + 1,) where the site's found results begin among the D."""
    false_positive: Array
    """(D,)"""
    colonies: IntArray
    """(D,) the count, NO_COUNT where only 'detected' was said."""
    ln_background: Array
    """(D,) log chance of the count where the cells do not explain it; 0 without a count."""
    z_factor: Array
    z_weight: Array
    phi: Array


@dataclass(frozen=True)
class SiteGroup:
    """The results at one site, by the key whose discrepancy they share, and their places among all results."""

    key: str
    places: tuple[int, ...]


def site_groups(results: Sequence[Observed]) -> tuple[SiteGroup, ...]:
    """Results by site, in order of the key, so that no order of results changes a sum."""
    places: dict[str, list[int]] = defaultdict(list)
    order = sorted(range(len(results)), key=lambda place: results[place].sample)
    for place in order:
        places[results[place].item.shared_key].append(place)
    return tuple(SiteGroup(key, tuple(places[key])) for key in sorted(places))


def false_positives(results: Sequence[Observed], rates: dict[str, float]) -> Array:
    """Chance of each result, (J,), to show what is not there: its own way and its batch's together."""
    return np.array([1.0 - (1.0 - one.false_positive) * (1.0 - rates[one.batch]) for one in results])


def needs_integral(results: Sequence[Observed]) -> bool:
    """Whether a site's results need the integral over what the model misses about the site."""
    found = [one for one in results if one.detected]
    counted = any(one.count is not None for one in found)
    return bool(found) and (len(results) > 1 or counted)


def site_spec(
    groups: Sequence[SiteGroup],
    results: Sequence[Observed],
    rates: dict[str, float],
    model: DetectionModel,
    background_colonies: float,
) -> SiteSpec:
    """The results of every site as arrays, with the false-positive rates of each batch."""
    rate = false_positives(results, rates)
    rows = [_site([results[at] for at in group.places], rate[list(group.places)], model) for group in groups]
    found = [at for group in groups for at in _found(group, results)]
    counts = [_count(results[at], background_colonies) for at in found]
    z = np.linspace(-FURTHEST_Z, FURTHEST_Z, POINTS)
    weight = np.exp(-0.5 * z * z)
    sizes = [len(_found(group, results)) for group in groups]
    return SiteSpec(
        by_table=np.array([row[0] for row in rows], np.bool_),
        constant=np.array([row[1] for row in rows], np.float64),
        slope=np.array([row[2] for row in rows], np.float64),
        ln_nothing=_ln_nothing(groups, results, rows, rate),
        first=np.concatenate([[0], np.cumsum(sizes, dtype=np.int64)]).astype(np.int64),
        false_positive=rate[found] if found else np.zeros(0),
        colonies=np.array([count for count, _ in counts], np.int64),
        ln_background=np.array([chance for _, chance in counts], np.float64),
        z_factor=np.exp(model.sigma * z),
        z_weight=weight / weight.sum(),
        phi=phi_table(model.sigma),
    )


def _found(group: SiteGroup, results: Sequence[Observed]) -> list[int]:
    """Places of the results that enter the integral one by one."""
    own = [results[at] for at in group.places]
    return [at for at in group.places if results[at].detected] if needs_integral(own) else []


def _count(result: Observed, mean: float) -> tuple[int, float]:
    """The count of a result and the log chance of it where cells do not explain it: geometric from 1."""
    if result.count is None:
        return NO_COUNT, 0.0
    return result.count.colonies, -log(mean) + (result.count.colonies - 1) * log(1.0 - 1.0 / mean)


def _site(results: Sequence[Observed], rate: Array, model: DetectionModel) -> _Row:
    found = np.array([one.detected for one in results])
    unexplained = model.unexplained * model.background(int(found.sum()), int((~found).sum()))
    explained = 1.0 - model.unexplained
    if needs_integral(results):
        return False, unexplained, explained * float(np.prod(1.0 - rate[~found]))
    # one detection alone is one less the chance of silence; without one, silence adds up
    if found.any():
        return True, unexplained + explained, -explained * float(1.0 - rate[0])
    return True, unexplained, explained * float(np.prod(1.0 - rate))


def _ln_nothing(groups: Sequence[SiteGroup], results: Sequence[Observed], rows: Sequence[_Row], rate: Array) -> Array:
    """Log chance of each site's results without a cell: every found result is a false one, counts as the background."""
    false = [float(np.prod(rate[_found(group, results)])) for group in groups]
    return np.array(
        [
            log(constant + slope * (1.0 if by_table else chance))
            for (by_table, constant, slope), chance in zip(rows, false, strict=True)
        ]
    )
