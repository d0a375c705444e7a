"""What a laboratory would say of further samples in every hypothesis, given each site's past, in full form."""

from collections.abc import Mapping

import numpy as np
import numpy.typing as npt

from swabwright.belief.earlier import earlier_results
from swabwright.belief.known import Known
from swabwright.belief.outcome import cells_of, no_results
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.factor import SiteResults, explained
from swabwright.detection.items import Item
from swabwright.detection.model import DetectionModel, detection_model

FloatArray = npt.NDArray[np.float32]
Array = npt.NDArray[np.float64]


def foreseen_chances(known: Known, rows: HypothesisRows, items: tuple[Item, ...]) -> FloatArray:
    """Chance that each item is reported detected in each row, shape (items, S), given its site's results so far."""
    return detected_chances(
        items, cells_of(known, rows, items), earlier_results(known, rows), detection_model(known.figures)
    )


def detected_chances(
    items: tuple[Item, ...], cells: FloatArray, past: Mapping[str, SiteResults], model: DetectionModel
) -> FloatArray:
    """The same from the cells of each item in each row and the past of each shared key.

    Unlike a chance of finding, it counts false positives and the background rate of sites that the model does not
    explain: a detection must not look like more evidence than it will be when it is read.
    """
    out = np.empty(cells.shape, np.float32)
    before: dict[str, Array] = {}
    nothing = no_results(cells.shape[1])
    for place, item in enumerate(items):
        key = item.shared_key
        earlier = past.get(key, nothing)
        if key not in before:
            before[key] = _chance(earlier, 0, explained(earlier, model), model)
        silent = (1.0 - model.false_positive) * explained(earlier, model, extra=cells[place].astype(np.float64))
        out[place] = 1.0 - _chance(earlier, 1, silent, model) / before[key]
    return np.clip(out, 0.0, 1.0)


def _chance(past: SiteResults, further_silent: int, explained_part: Array, model: DetectionModel) -> Array:
    """Chance of a site's past with so many further silent results, where the explained part of it is known."""
    found, silent = past.counts
    unexplained = model.unexplained * model.background(found, silent + further_silent)
    return np.asarray(unexplained + (1.0 - model.unexplained) * explained_part)
