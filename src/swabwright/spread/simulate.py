"""Compiled: whole histories of one structural copy, read at every occasion straight into the sparse code."""

# mypy: disable-error-code="no-untyped-def"

from typing import NamedTuple

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.spread.codes import LARGEST, LARGEST_CODE, encode_bits
from swabwright.spread.events import draw_events
from swabwright.spread.niches import treat_niches
from swabwright.spread.replay import (
    busiest_slot,
    clear_state,
    empty_moves,
    empty_state,
    hand_over,
    move_slot,
    read_rows,
    rest_slot,
    settle_losses,
    settle_niches,
    settle_shares,
    sort_transfers,
    take_over,
)
from swabwright.spread.usual import empty_usual, settle_carry_off, settle_history


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
def keep_reading(reading, width, rows, cutoff, store, e, occasion):
    """Write a reading (rows x width, flat) as entries by source and row; returns the store, grown if needed."""
    counts, bits = store.counts[e, occasion], reading.view(np.int32)
    columns = counts.shape[0]
    for row in range(rows):
        loads = reading[row * width : row * width + columns]
        for c in range(columns):
            counts[c] += np.int32(loads[c] > cutoff)
    store = grown(store, counts.sum())
    place, listed = np.empty(columns, np.int64), np.empty(columns + 1, np.int32)
    at = store.tally[0]
    for c in range(columns):
        place[c] = at
        at += counts[c]
    for row in range(rows):
        loads, own_bits = reading[row * width : row * width + columns], bits[row * width : row * width + columns]
        count = 0
        for c in range(columns):  # branch-free: one load in ten is kept, which no branch predictor likes
            listed[count] = c
            count += loads[c] > cutoff
        for n in range(count):
            c = listed[n]
            too_large = loads[c] >= LARGEST
            store.row[place[c]] = row
            store.code[place[c]] = LARGEST_CODE if too_large else encode_bits(own_bits[c])
            place[c] += 1
            store.tally[1] += too_large
    store.tally[0] = at
    return store


@njit(cache=True, nogil=True)
def run_history(events, slots, sources, tuning, draws, e, usual, state, reading, store):
    """Replay one history from the state it is in and read it at every occasion; returns the store."""
    moves, taken = empty_moves(sources, busiest_slot(events)), np.empty(state.width, np.float32)
    for slot in range(slots.unit.shape[0]):
        kind = slots.kind[slot]
        if slot == tuning.treated:
            treat_niches(slot, draws.founded[e], draws.kept[e], state.level)
        settle_losses(sources, slots, slot, tuning, usual, draws.cleaning[e], draws.history[e], moves)
        settle_niches(sources, slot, kind, usual, draws.founded[e], draws.level[e], state, moves)
        if usual.idle[kind] and slots.read_first[slot] == slots.read_first[slot + 1]:
            rest_slot(sources, state, moves)
            continue
        sort_transfers(events, slot, sources.rows, moves)
        settle_shares(sources, usual, kind, moves)
        for read in range(slots.read_first[slot], slots.read_first[slot + 1]):
            occasion = slots.reads[read]
            read_rows(sources, usual, kind, state, moves, reading)
            store = keep_reading(reading, state.width, sources.rows, tuning.cutoff, store, e, occasion)
            store.niche[e, occasion] = state.level
        move_slot(sources, usual, kind, slots.day[slot], tuning.days, state, moves, taken)
    return store


@njit(cache=True, nogil=True)
def simulate(lanes, streams, slots, sources, tuning, draws, stored):
    """All histories of `draws` on one copy of the plant; surfaces begin as `stored`, and are left in it.

    With nothing stored (no history in it) every history begins with clean surfaces and leaves nothing.
    """
    histories, count = draws.history.shape[0], sources.shed.shape[0]
    store, state = empty_store(histories, sources, tuning), empty_state(sources, tuning)
    usual = empty_usual(sources, slots)
    settle_carry_off(sources, slots, usual)
    reading = np.empty(sources.rows * state.width, np.float32)
    for e in range(histories):
        events = draw_events(lanes, streams, slots, tuning, draws.rate[e], draws.fraction[e], draws.history[e])
        store.tally[2] += events.eta.shape[0]
        settle_history(sources, slots, usual, draws.die_off[e], draws.growth[e], draws.shedding[e])
        clear_state(state)
        if e < stored.level.shape[0]:
            take_over(state, stored.loads[e], stored.level[e])
        store = run_history(events, slots, sources, tuning, draws, e, usual, state, reading, store)
        if e < stored.level.shape[0]:
            hand_over(state, stored.loads[e], stored.level[e])
        by_day = state.product.reshape((tuning.lines, tuning.days, state.width))
        store.product[e] = by_day[:, :, :count]
    return store
