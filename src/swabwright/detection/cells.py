"""Expected recovered cells of every item in every hypothesis row, straight from the sparse bank."""

from functools import cache
from typing import Any, Protocol

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.detection.items import Item, ItemDraws
from swabwright.spread.bank import ResponseBank, decode

FloatArray = npt.NDArray[np.float32]
IntArray = npt.NDArray[np.int32]
BoolArray = npt.NDArray[np.bool_]
Parts = tuple[Any, ...]
"""Arrays that a compiled loop takes together."""


class NicheRows(Protocol):
    """Anything that says which history each row belongs to, and where its niches are (hypothesis rows do)."""

    @property
    def history(self) -> IntArray:
        """Index of each row's history, shape (S,)."""

    @property
    def sources(self) -> IntArray:
        """Source indices of each row's niches, shape (S, 3), -1 for none."""


def expected_cells(bank: ResponseBank, rows: NicheRows, items: tuple[Item, ...], draws: ItemDraws) -> FloatArray:
    """lambda of each item in each row, shape (items, S), item-major: CFU that reach the broth alive.

    lambda = rho sum over niches c of cap_c (kappa G[i, c] + [i = c] reach k H[c]); kappa = area fraction x k.
    """
    # two factors an item: what lies on its area, and its own niche, which is a spot without an area fraction
    scale = np.array([(item.area_fraction * item.recovery, item.recovery) for item in items], np.float32)
    out = np.zeros((len(items), rows.history.shape[0]), np.float32)
    lists = _items_by_row(bank, items)
    own = _row_of_source(bank)
    stored = (bank.offsets, bank.row_index, bank.code, bank.niche)
    drawn = (draws.reach, draws.recovery, draws.log10_capacity)
    _fill((rows.history, rows.sources), stored, drawn, (*lists, own, scale.reshape(-1, 2)), (_decoded(), out))
    return out


def at_source(bank: ResponseBank, rows: NicheRows, items: tuple[Item, ...]) -> BoolArray:
    """Whether an item's site is a niche of the row, shape (items, S)."""
    own = source_of_items(bank, items)
    out = np.zeros((len(items), rows.history.shape[0]), np.bool_)
    for place in range(rows.sources.shape[1]):
        out |= own[:, None] == rows.sources[None, :, place]
    return out


def source_of_items(bank: ResponseBank, items: tuple[Item, ...]) -> IntArray:
    """Source index of each item's own site, shape (items,)."""
    index = {name: place for place, name in enumerate(bank.source_names)}
    return np.array([index[bank.row_names[item.row]] for item in items], np.int32)


def _row_of_source(bank: ResponseBank) -> IntArray:
    index = {name: place for place, name in enumerate(bank.row_names)}
    return np.array([index.get(name, -1) for name in bank.source_names], np.int32)


@cache
def _decoded() -> FloatArray:
    return decode(np.arange(65536, dtype=np.uint32).astype(np.uint16))


def _items_by_row(bank: ResponseBank, items: tuple[Item, ...]) -> tuple[IntArray, IntArray]:
    """Items in order of (occasion, row), and where each (occasion, row) begins: shape (occasions, rows + 1)."""
    rows = len(bank.row_names)
    # several items may sit on one row: devices and modes of the same site
    place = np.array([item.occasion * rows + item.row for item in items], np.int64)
    order = np.argsort(place, kind="stable").astype(np.int32)
    starts = np.searchsorted(place[order], np.arange(len(bank.occasions) * rows + 1)).astype(np.int32)
    index = np.arange(len(bank.occasions))[:, None] * rows + np.arange(rows + 1)[None, :]
    return order, starts[index]


@njit(cache=True, nogil=True)
def _add_column(entries: Parts, listed: Parts, factor: float, target: Parts) -> None:
    """Adds what one niche puts on every item's site of one occasion."""
    row_index, code, decoded = entries
    order, starts = listed
    fractions, row, out = target
    for entry in range(row_index.shape[0]):
        site = row_index[entry]
        first, last = starts[site], starts[site + 1]
        # most rows are no item's site
        if first == last:
            continue
        load = factor * decoded[code[entry]]
        for place in range(first, last):
            item = order[place]
            out[item, row] += load * fractions[item, 0]


@njit(cache=True, nogil=True)
def _add_niche(niche_row: tuple[int, int, int], stored: Parts, drawn: Parts, listed: Parts, target: Parts) -> None:
    """Adds one niche of one row: what it spreads, and the niche itself where an item sits on it."""
    history, source, row = niche_row
    offsets, row_index, code, niche = stored
    reach, recovery, capacity = drawn
    order, starts, own, scale = listed
    decoded, out = target
    factor = recovery[history] * np.float32(10.0) ** capacity[history, source]
    for occasion in range(offsets.shape[1]):
        # an occasion at which no item is read
        if starts[occasion, 0] == starts[occasion, starts.shape[1] - 1]:
            continue
        first, last = offsets[history, occasion, source], offsets[history, occasion, source + 1]
        entries = (row_index[first:last], code[first:last], decoded)
        _add_column(entries, (order, starts[occasion]), factor, (scale, row, out))
        # incoming material is no site: nothing can be sampled there
        if own[source] < 0:
            continue
        for place in range(starts[occasion, own[source]], starts[occasion, own[source] + 1]):
            item = order[place]
            out[item, row] += factor * scale[item, 1] * reach[item, history] * niche[history, occasion, source]


@njit(cache=True, nogil=True)
def _fill(rows: Parts, stored: Parts, drawn: Parts, listed: Parts, target: Parts) -> None:
    """Adds every niche of every row."""
    history, sources = rows
    for row in range(history.shape[0]):
        for place in range(sources.shape[1]):
            if sources[row, place] >= 0:
                _add_niche((history[row], sources[row, place], row), stored, drawn, listed, target)
