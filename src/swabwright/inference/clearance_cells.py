"""Cells of samples where each niche of a hypothesis may be left, reduced or gone: every niche read in its own bank."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from swabwright.belief.known import Known
from swabwright.detection.cells import at_source, expected_cells
from swabwright.detection.draws import item_draws
from swabwright.detection.items import Item
from swabwright.inference.clearance_states import States

FloatArray = npt.NDArray[np.float32]
BoolArray = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class _Niches:
    """Which history each state belongs to, and those of its niches that are read in one bank."""

    history: npt.NDArray[np.int32]
    sources: npt.NDArray[np.int32]


def cells_in_states(banks: Sequence[Known], states: States, items: tuple[Item, ...]) -> FloatArray:
    """Expected recovered cells of each item in each state, shape (items, S): the sum over its niches.

    banks: of the same histories; in the first every niche is left. What a niche shed before it was treated lies in
    every one of them. Draws of reach, hit and recovery hang on keys, so a site is hit or missed alike in all rounds.
    """
    out = np.zeros((len(items), len(states)), np.float32)
    if not items:
        return out
    left = banks[0]
    # draws hang on keys and histories, which all of these banks share
    draws = item_draws(left.bank, left.setting.plant, left.setting.catalogue, items)
    for place, known in enumerate(banks):
        niches = _read_in(states, place)
        if (niches.sources >= 0).any():
            out += expected_cells(known.bank, niches, items, draws)
    return out


def on_remaining(banks: Sequence[Known], states: States, items: tuple[Item, ...]) -> BoolArray:
    """Whether an item's site is a niche of the state, treated or not, shape (items, S)."""
    return at_source(banks[0].bank, states.rows, items)


def _read_in(states: States, bank: int) -> _Niches:
    return _Niches(states.rows.history, np.where(states.bank == bank, states.rows.sources, -1).astype(np.int32))
