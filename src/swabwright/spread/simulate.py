"""Compiled: whole histories of one structural copy, read at every occasion straight into the sparse code."""

# mypy: disable-error-code="no-untyped-def"

from typing import NamedTuple

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.spread.codes import encode
from swabwright.spread.events import draw_events
from swabwright.spread.replay import (
    busiest_slot,
    empty_moves,
    empty_state,
    move_slot,
    padded,
    read_row,
    settle_losses,
    settle_niches,
    settle_shares,
    sort_transfers,
)


class Store(NamedTuple):
    """What histories leave behind: entries by (history, occasion, source), niches, product, what could not be held."""

    counts: npt.NDArray[np.int32]
    row: npt.NDArray[np.uint16]
    code: npt.NDArray[np.uint16]
    niche: npt.NDArray[np.float32]
    product: npt.NDArray[np.float32]
    tally: npt.NDArray[np.int64]
    """Entries written so far, entries too large for the code, transfers."""


@njit(cache=True, nogil=True)
def empty_store(histories, sources, tuning):
    """Room for some histories; the lists of entries grow when they must."""
    count = sources.shed.shape[0]
    room = max(1024, histories * tuning.occasions * count * sources.rows // 8)
    return Store(
        np.zeros((histories, tuning.occasions, count), np.int32),
        np.empty(room, np.uint16),
        np.empty(room, np.uint16),
        np.zeros((histories, tuning.occasions, count), np.float32),
        np.zeros((histories, tuning.lines, tuning.days, count), np.float32),
        np.zeros(3, np.int64),
    )


@njit(cache=True, nogil=True)
def grown(store, needed):
    """The same store with room for so many more entries."""
    if store.tally[0] + needed <= store.row.shape[0]:
        return store
    room = 2 * store.row.shape[0] + needed
    row, code = np.empty(room, np.uint16), np.empty(room, np.uint16)
    row[: store.row.shape[0]] = store.row
    code[: store.code.shape[0]] = store.code
    return Store(store.counts, row, code, store.niche, store.product, store.tally)


@njit(cache=True, nogil=True)
def keep_reading(reading, cutoff, store, e, occasion):
    """Write one reading (rows, width) as entries in order of source and row; returns the store, grown if needed."""
    counts = store.counts[e, occasion]
    for row in range(reading.shape[0]):
        for c in range(counts.shape[0]):
            counts[c] += reading[row, c] > cutoff
    store = grown(store, counts.sum())
    place = np.empty(counts.shape[0], np.int64)
    at = store.tally[0]
    for c in range(counts.shape[0]):
        place[c] = at
        at += counts[c]
    for row in range(reading.shape[0]):
        for c in range(counts.shape[0]):
            if reading[row, c] > cutoff:
                code, too_large = encode(reading[row, c])
                store.row[place[c]] = row
                store.code[place[c]] = code
                place[c] += 1
                store.tally[1] += too_large
    store.tally[0] = at
    return store


@njit(cache=True, nogil=True)
def simulate(lanes, streams, slots, sources, tuning, draws):
    """All histories of `draws` on one copy of the plant."""
    histories = draws.history.shape[0]
    store = empty_store(histories, sources, tuning)
    width = padded(sources.shed.shape[0])
    reading, arrived = np.empty((sources.rows, width), np.float32), np.empty(width, np.float32)
    changed = np.zeros(sources.rows, np.bool_)
    for e in range(histories):
        history = draws.history[e]
        events = draw_events(lanes, streams, slots, tuning, draws.rate[e], draws.fraction[e], history)
        store.tally[2] += events.eta.shape[0]
        state, moves = empty_state(sources, tuning), empty_moves(sources, busiest_slot(events))
        for slot in range(slots.unit.shape[0]):
            sort_transfers(events, slot, sources.rows, moves)
            settle_shares(sources, slots, slots.kind[slot], moves)
            settle_losses(sources, slots, slot, tuning, draws.cleaning[e], draws.die_off[e], history, moves)
            settle_niches(sources, slots, slot, draws, e, state, moves)
            for read in range(slots.read_first[slot], slots.read_first[slot + 1]):
                for row in range(sources.rows):
                    read_row(state, moves, row, arrived, reading[row])
                store = keep_reading(reading, tuning.cutoff, store, e, slots.reads[read])
                store.niche[e, slots.reads[read]] = state.level
            move_slot(sources, state, moves, slots.day[slot], arrived, changed)
        store.product[e] = state.product[:, :, : sources.shed.shape[0]]
    return store
