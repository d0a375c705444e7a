"""What a set of samples would show in each hypothesis row: a find, a hit on the niche, or nothing at all."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from swabwright.belief.earlier import earlier_results
from swabwright.belief.known import Known, remembering
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.cells import at_source, expected_cells
from swabwright.detection.draws import item_draws
from swabwright.detection.factor import SiteResults, conditional_silent, site_factor
from swabwright.detection.items import Item
from swabwright.detection.model import DetectionModel, detection_model

Array = npt.NDArray[np.float64]
FloatArray = npt.NDArray[np.float32]


def cells_of(known: Known, rows: HypothesisRows, items: tuple[Item, ...]) -> FloatArray:
    """Expected recovered cells of items in rows, shape (items, S), with all draws made from the bank's streams."""

    def work() -> FloatArray:
        draws = item_draws(known.bank, known.setting.plant, known.setting.catalogue, items)
        return expected_cells(known.bank, rows, items, draws)

    return remembering(known, "cells", rows, items, work)


def find_chances(known: Known, rows: HypothesisRows, items: tuple[Item, ...]) -> Array:
    """Chance per row that at least one sample finds it truly, given each site's earlier results; shape (S,)."""
    return 1.0 - _silent(known, rows, items, cells_of(known, rows, items))


def hit_chances(known: Known, rows: HypothesisRows, items: tuple[Item, ...]) -> Array:
    """Chance per row that a sample sits on a niche itself and finds it, shape (S,)."""
    cells = cells_of(known, rows, items) * at_source(known.bank, rows, items)
    return 1.0 - _silent(known, rows, items, cells)


def silence_ratio(known: Known, rows: HypothesisRows, items: tuple[Item, ...]) -> Array:
    """Chance per row of 'not detected' in all samples, over the same chance where the organism is absent.

    In full form: background rate and false positives counted, given each site's earlier results. Exactly 1 in a row
    that puts no cell into any sample, past or new.
    """
    model = detection_model(known.figures)
    past = earlier_results(known, rows)
    ratio = np.ones(len(rows))
    for key, cells in _by_site(items, cells_of(known, rows, items)):
        new = SiteResults(cells, np.zeros(len(cells), np.bool_), np.full(len(cells), model.false_positive))
        # the absent state has the same past and the same samples, only no cell in any of them
        absent = _given_past(_absent(new), _absent(past[key]) if key in past else None, model)
        ratio *= _given_past(new, past.get(key), model) / absent
    return ratio


def _silent(known: Known, rows: HypothesisRows, items: tuple[Item, ...], cells: FloatArray) -> Array:
    model = detection_model(known.figures)
    past = earlier_results(known, rows)
    silent = np.ones(len(rows))
    for key, of_site in _by_site(items, cells):
        earlier = past.get(key) or no_results(len(rows))
        silent *= conditional_silent(earlier, of_site.sum(axis=0), model)
    return silent


def no_results(rows: int) -> SiteResults:
    """A site without any result, over so many rows."""
    return SiteResults(np.zeros((0, rows), np.float32), np.zeros(0, np.bool_), np.zeros(0))


def _by_site(items: tuple[Item, ...], cells: FloatArray) -> Iterator[tuple[str, FloatArray]]:
    """The cells of the items that share one site's discrepancy, in order of their shared key."""
    places: dict[str, list[int]] = defaultdict(list)
    for place, item in enumerate(items):
        places[item.shared_key].append(place)
    # by key, so that products come out the same however the plan lists its samples
    return ((key, cells[places[key]]) for key in sorted(places))


def _given_past(new: SiteResults, past: SiteResults | None, model: DetectionModel) -> Array:
    if past is None:
        return site_factor(new, model)
    both = SiteResults(
        np.concatenate([past.cells, new.cells]),
        np.concatenate([past.detected, new.detected]),
        np.concatenate([past.false_positive, new.false_positive]),
    )
    return site_factor(both, model) / site_factor(past, model)


def _absent(results: SiteResults) -> SiteResults:
    return replace(results, cells=np.zeros_like(results.cells))
