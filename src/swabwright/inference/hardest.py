"""Which detections no niche accounts for well: background at the site, or a false result."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from swabwright.belief.known import Known
from swabwright.belief.rows import HypothesisRows
from swabwright.belief.spread_of import Spread, spread_of
from swabwright.detection.factor import SiteResults, site_factor
from swabwright.detection.items import Item
from swabwright.detection.model import detection_model
from swabwright.detection.observed import Observed
from swabwright.inference.past import past_results

Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Unexplained:
    """The detections at one site, and the chance that they are background or false results."""

    item: Item
    """Of the first detected sample there."""
    samples: tuple[str, ...]
    chance: Spread
    by_row: Array
    """The same in every hypothesis, (S,)."""


def unexplained(
    known: Known, results: Sequence[Observed], rows: HypothesisRows, rates: Mapping[str, float]
) -> tuple[Unexplained, ...]:
    """Every site with a detection, the hardest to explain first.

    In a hypothesis the chance is that of the site's results without a cell over that with its cells, at most 1.
    rows: hypotheses of the posterior. rates: the false-positive rate of each batch.
    """
    detected: dict[str, list[Observed]] = {}
    for one in sorted(results, key=lambda one: one.sample):
        if one.detected:
            detected.setdefault(one.item.shared_key, []).append(one)
    own = [one for one in results if one.item.shared_key in detected]
    past = past_results(known, own, rows, dict(rates))
    found = [_of_site(ones, _by_row(known, past[key]), rows) for key, ones in detected.items()]
    return tuple(sorted(found, key=lambda one: (-one.chance.value, one.item.site_key)))


def _by_row(known: Known, results: SiteResults) -> Array:
    model = detection_model(known.figures)
    nothing = site_factor(replace(results, cells=np.zeros_like(results.cells)), model)
    return np.asarray(np.minimum(1.0, nothing / site_factor(results, model)))


def _of_site(ones: Sequence[Observed], by_row: Array, rows: HypothesisRows) -> Unexplained:
    return Unexplained(ones[0].item, tuple(one.sample for one in ones), spread_of(by_row, rows), by_row)
