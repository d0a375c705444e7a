"""Compiled, second stage of a history: its events replayed on the surface loads of all sources at once."""

# mypy: disable-error-code="no-untyped-def"

from typing import NamedTuple

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.compute.philox import philox
from swabwright.spread.factors import split_of_fresh, split_of_old, survives_carry_off
from swabwright.spread.niches import niche_step

WORD_SPAN = 4294967296.0
SMALLEST_SCALE = 1e-6
ALIGNED = 16
BAD_STRIDE = 128
LN_10 = 2.302585092994046


class State(NamedTuple):
    """Surface loads and niches of one history while it runs.

    loads: two buffers of shape (2, rows, width); row j stands in buffer current[j], to be multiplied by
    scale[j]. level: niche of each source. product: CFU a day by line, day and source.
    """

    loads: npt.NDArray[np.float32]
    current: npt.NDArray[np.int8]
    scale: npt.NDArray[np.float64]
    level: npt.NDArray[np.float64]
    product: npt.NDArray[np.float32]


class Moves(NamedTuple):
    """One slot of one history: what happens at each source, and its transfers sorted by target.

    stays, moved: of what lay there; fresh_stays, fresh_moved: of what is shed in the slot (moved: per unit of
    hazard). arrives: share of what arrives that product leaves. after: share left by cleaning and die-off.
    shed: what each source's niche sheds. first, source, eta: transfers into row j from first[j] to first[j + 1].
    """

    stays: npt.NDArray[np.float64]
    moved: npt.NDArray[np.float64]
    fresh_stays: npt.NDArray[np.float64]
    fresh_moved: npt.NDArray[np.float64]
    kappa: npt.NDArray[np.float64]
    arrives: npt.NDArray[np.float64]
    after: npt.NDArray[np.float64]
    shed: npt.NDArray[np.float64]
    hazard: npt.NDArray[np.float64]
    first: npt.NDArray[np.int32]
    source: npt.NDArray[np.int32]
    eta: npt.NDArray[np.float64]


@njit(cache=True, nogil=True)
def padded(sources):
    """Width of a row of loads: a multiple of 16, and no large power of two (equal strides fight over the cache)."""
    width = (sources + ALIGNED - 1) // ALIGNED * ALIGNED
    return width + ALIGNED if width % BAD_STRIDE == 0 else width


@njit(cache=True, nogil=True)
def empty_state(sources, tuning):
    """Clean surfaces and no niche anywhere."""
    rows, count = sources.rows, sources.shed.shape[0]
    return State(
        np.zeros((2, rows, padded(count)), np.float32),
        np.zeros(rows, np.int8),
        np.ones(rows, np.float64),
        np.zeros(count, np.float64),
        np.zeros((tuning.lines, tuning.days, padded(count)), np.float32),
    )


@njit(cache=True, nogil=True)
def busiest_slot(events):
    """Transfers of the slot that has most."""
    most = 1
    for slot in range(events.first.shape[0] - 1):
        most = max(most, events.first[slot + 1] - events.first[slot])
    return most


@njit(cache=True, nogil=True)
def empty_moves(sources, transfers):
    """Room for the moves of a slot with at most so many transfers."""
    count = sources.shed.shape[0]
    return Moves(
        np.ones(count), np.ones(count), np.ones(count), np.ones(count), np.zeros(count), np.ones(count),
        np.ones(count), np.zeros(count), np.zeros(count), np.zeros(sources.rows + 1, np.int32),
        np.empty(transfers, np.int32), np.empty(transfers, np.float64),
    )  # fmt: skip


@njit(cache=True, nogil=True)
def sort_transfers(events, slot, rows, moves):
    """The transfers of a slot in the order of their targets, and the summed hazard of each source."""
    start, end = events.first[slot], events.first[slot + 1]
    first = moves.first
    first[:] = 0
    moves.hazard[:] = 0.0
    for n in range(start, end):
        first[events.target[n] + 1] += 1
        moves.hazard[events.source[n]] += events.eta[n]
    for row in range(rows):
        first[row + 1] += first[row]
    for n in range(start, end):
        place = first[events.target[n]]
        moves.source[place] = events.source[n]
        moves.eta[place] = events.eta[n]
        first[events.target[n]] = place + 1
    for row in range(rows, 0, -1):
        first[row] = first[row - 1]
    first[0] = 0


@njit(cache=True, nogil=True)
def settle_shares(sources, slots, kind, moves):
    """What stays, moves and is carried off at every source in a slot; incoming material never stays."""
    for c in range(sources.shed.shape[0]):
        moves.kappa[c] = sources.carry_off[c] * slots.running[kind, sources.clock[c]] / 8.0
        moves.stays[c], moves.moved[c] = split_of_old(moves.hazard[c], moves.kappa[c])
        moves.fresh_stays[c], moves.fresh_moved[c] = split_of_fresh(moves.hazard[c], moves.kappa[c])
        moves.arrives[c] = survives_carry_off(moves.kappa[c])
    for c in range(sources.rows, sources.shed.shape[0]):
        moves.fresh_moved[c] = split_of_old(moves.hazard[c], 0.0)[1]
        moves.fresh_stays[c] = 0.0


@njit(cache=True, nogil=True)
def settle_losses(sources, slots, slot, tuning, cleaning, die_off, history, moves):
    """Share left by cleaning (a share of cleanings fails) and slow die-off at the end of a slot."""
    hours, unit = slots.hours[slots.kind[slot]], slots.unit[slot]
    for row in range(sources.rows):
        left = np.exp(-sources.die_off[row] * die_off * hours / 8.0)
        part = slots.cleaned[slot, row]
        if part > 0.0:
            word, _, _, _ = philox(
                sources.low[row], sources.high[row], history, unit, tuning.clean_key[0], tuning.clean_key[1]
            )
            if (np.float64(word) + 0.5) / WORD_SPAN < tuning.failure_share:
                part *= tuning.failed_part
            left *= np.exp(-LN_10 * sources.cleaning[row] * cleaning * part)
        moves.after[row] = left


@njit(cache=True, nogil=True)
def settle_niches(sources, slots, slot, draws, e, state, moves):
    """Growth and shedding of every niche in a slot; nothing before it is founded."""
    kind = slots.kind[slot]
    for c in range(sources.shed.shape[0]):
        running = slots.running[kind, sources.clock[c]] / 8.0
        moves.shed[c] = 0.0
        if draws.founded[e, c] == slot:
            state.level[c] = draws.level[e, c]
        if c >= sources.rows:
            moves.shed[c] = sources.emitted[c] * running * state.level[c]
        elif draws.founded[e, c] <= slot:
            growth = sources.growth[c] * draws.growth[e] * slots.hours[kind] / 8.0
            shed = sources.shed[c] * draws.shedding[e, c] * running
            state.level[c], moves.shed[c] = niche_step(state.level[c], growth, shed)


@njit(cache=True, nogil=True, fastmath={"contract"})
def gather(state, moves, row, into):
    """What arrives on a row from all others, of what lay there at the start of the slot: dense over sources."""
    into[:] = np.float32(0.0)
    for n in range(moves.first[row], moves.first[row + 1]):
        i = moves.source[n]
        if i < state.scale.shape[0]:
            weight = np.float32(moves.moved[i] * moves.eta[n] * state.scale[i])
            from_row = state.loads[state.current[i], i]
            for c in range(into.shape[0]):
                into[c] += weight * from_row[c]


@njit(cache=True, nogil=True)
def add_fresh_arrivals(moves, row, into, factor):
    """Add what was shed in this slot and moved to the row: one element a transfer."""
    for n in range(moves.first[row], moves.first[row + 1]):
        i = moves.source[n]
        into[i] += np.float32(factor * moves.shed[i] * moves.fresh_moved[i] * moves.eta[n])


@njit(cache=True, nogil=True, fastmath={"contract"})
def read_row(state, moves, row, arrived, into):
    """Loads of a row at an occasion: after contact and carry-off, before cleaning and die-off."""
    gather(state, moves, row, arrived)
    add_fresh_arrivals(moves, row, arrived, 1.0)
    old = np.float32(state.scale[row] * moves.stays[row])
    arrives = np.float32(moves.arrives[row])
    from_row = state.loads[state.current[row], row]
    for c in range(into.shape[0]):
        into[c] = old * from_row[c] + arrives * arrived[c]
    into[row] += np.float32(moves.shed[row] * moves.fresh_stays[row])


@njit(cache=True, nogil=True, fastmath={"contract"})
def into_product(state, moves, row, arrived, product):
    """Add what product carries off a row in this slot: of what lay there, of what arrived, of what was shed."""
    old = np.float32(state.scale[row] * moves.moved[row] * moves.kappa[row])
    new = np.float32(1.0 - moves.arrives[row])
    from_row = state.loads[state.current[row], row]
    for c in range(product.shape[0]):
        product[c] += old * from_row[c] + new * arrived[c]
    product[row] += np.float32(moves.shed[row] * moves.fresh_moved[row] * moves.kappa[row])


@njit(cache=True, nogil=True, fastmath={"contract"})
def next_row(state, moves, row, arrived, survival):
    """Loads of a row at the end of a slot, into its other buffer: the old loses slowly, what arrived also at once."""
    old = np.float32(state.scale[row] * moves.stays[row] * moves.after[row])
    new = np.float32(survival * moves.arrives[row] * moves.after[row])
    from_row = state.loads[state.current[row], row]
    into = state.loads[1 - state.current[row], row]
    for c in range(into.shape[0]):
        into[c] = old * from_row[c] + new * arrived[c]


@njit(cache=True, nogil=True)
def shrink_row(state, moves, row):
    """A row that receives nothing only loses: its scale carries that, its loads are not touched."""
    state.scale[row] *= moves.stays[row] * moves.after[row]
    if state.scale[row] < SMALLEST_SCALE:
        state.loads[state.current[row], row] *= np.float32(state.scale[row])
        state.scale[row] = 1.0


@njit(cache=True, nogil=True)
def move_slot(sources, state, moves, day, arrived, changed):
    """One slot on all rows at once: everything that moves was there when the slot began."""
    for row in range(sources.rows):
        line = sources.line[row] if day >= 0 and moves.kappa[row] > 0.0 else -1
        receives = moves.first[row + 1] > moves.first[row]
        changed[row] = receives
        if not receives and line < 0:
            continue
        gather(state, moves, row, arrived)
        add_fresh_arrivals(moves, row, arrived, 1.0)
        if line >= 0:
            into_product(state, moves, row, arrived, state.product[line, day])
        if receives:
            next_row(state, moves, row, arrived, sources.fast_survival[row])
    _finish(sources, state, moves, changed)
    if day >= 0:
        _incoming_into_product(sources, state, moves, day)


@njit(cache=True, nogil=True)
def _finish(sources, state, moves, changed):
    """Turn the buffers of changed rows, shrink the others, and lay down what each niche shed on its own row."""
    for row in range(sources.rows):
        if changed[row]:
            state.current[row] = 1 - state.current[row]
            state.scale[row] = 1.0
        else:
            shrink_row(state, moves, row)
        own = moves.shed[row] * moves.fresh_stays[row] * sources.fast_survival[row] * moves.after[row]
        state.loads[state.current[row], row, row] += np.float32(own / state.scale[row])


@njit(cache=True, nogil=True)
def _incoming_into_product(sources, state, moves, day):
    """Incoming material that no contact has taken off stays with the product of its line."""
    for c in range(sources.rows, sources.shed.shape[0]):
        kept = moves.shed[c] * (1.0 - moves.fresh_moved[c] * moves.hazard[c])
        state.product[sources.line[c], day, c] += np.float32(kept)
