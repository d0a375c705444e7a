"""Compiled, second stage of a history: its events replayed on the surface loads of all sources at once."""

# mypy: disable-error-code="no-untyped-def"

from typing import NamedTuple

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.compute.philox import philox
from swabwright.spread.factors import split
from swabwright.spread.niches import niche_step

WORD_SPAN = 4294967296.0
SMALLEST_SCALE = 1e-6
ALIGNED = 16
BAD_STRIDE = 128
A_PASS = 4
"""Source rows added in one pass over a row of loads."""
LN_10 = 2.302585092994046

FloatArray = npt.NDArray[np.float64]


class State(NamedTuple):
    """Surface loads and niches of one history while it runs.

    loads: two buffers of rows x width, flat; row j stands in buffer current[j], to be multiplied by scale[j].
    level: niche of each source. product: CFU a day by line, day and source (padded), flat.
    """

    loads: npt.NDArray[np.float32]
    current: npt.NDArray[np.int64]
    scale: FloatArray
    level: FloatArray
    product: npt.NDArray[np.float32]
    width: int


class Stored(NamedTuple):
    """Surfaces and niches of some histories between two segments.

    loads: CFU per unit of capacity, shape (histories, rows, sources). level: shape (histories, sources).
    """

    loads: npt.NDArray[np.float32]
    level: FloatArray


class Moves(NamedTuple):
    """One slot of one history: what happens at each source, and its transfers sorted by target.

    stays, moved: of what lay there; fresh_stays, fresh_moved: of what is shed in the slot (moved: per unit of
    hazard). after: share left by cleaning and die-off. shed: what each source's niche sheds. first, source,
    eta: transfers into row j from first[j] to first[j + 1]. weight, base: the rows mixed into one row.
    """

    stays: FloatArray
    moved: FloatArray
    fresh_stays: FloatArray
    fresh_moved: FloatArray
    after: FloatArray
    shed: FloatArray
    hazard: FloatArray
    first: npt.NDArray[np.int32]
    source: npt.NDArray[np.int32]
    eta: FloatArray
    weight: npt.NDArray[np.float32]
    base: npt.NDArray[np.int64]


@njit(cache=True, nogil=True)
def padded(sources):
    """Width of a row of loads: a multiple of 16, and no large power of two (equal strides fight over the cache)."""
    width = (sources + ALIGNED - 1) // ALIGNED * ALIGNED
    return width + ALIGNED if width % BAD_STRIDE == 0 else width


@njit(cache=True, nogil=True)
def empty_state(sources, tuning):
    """Room for clean surfaces with no niche anywhere."""
    rows, count = sources.rows, sources.shed.shape[0]
    width = padded(count)
    return State(
        np.zeros(2 * rows * width, np.float32),
        np.zeros(rows, np.int64),
        np.ones(rows, np.float64),
        np.zeros(count, np.float64),
        np.zeros(tuning.lines * tuning.days * width, np.float32),
        width,
    )


@njit(cache=True, nogil=True)
def clear_state(state):
    """Make all surfaces clean and all niches absent; the second buffer is written before it is read."""
    rows = state.scale.shape[0]
    state.loads[: rows * state.width] = np.float32(0.0)
    state.current[:] = 0
    state.scale[:] = 1.0
    state.level[:] = 0.0
    state.product[:] = np.float32(0.0)


@njit(cache=True, nogil=True)
def take_over(state, loads, level):
    """Begin with the surfaces and niches that an earlier segment left."""
    for row in range(loads.shape[0]):
        state.loads[row * state.width : row * state.width + loads.shape[1]] = loads[row]
    state.level[:] = level


@njit(cache=True, nogil=True)
def hand_over(state, loads, level):
    """Leave surfaces and niches to a later segment."""
    for row in range(loads.shape[0]):
        base = (state.current[row] * state.scale.shape[0] + row) * state.width
        loads[row] = state.loads[base : base + loads.shape[1]] * np.float32(state.scale[row])
    level[:] = state.level


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
        np.ones(count), np.ones(count), np.ones(count), np.ones(count), np.ones(count), np.zeros(count),
        np.zeros(count), np.zeros(sources.rows + 1, np.int32), np.empty(transfers, np.int32),
        np.empty(transfers, np.float64), np.empty(transfers + 1 + A_PASS, np.float32),
        np.empty(transfers + 1 + A_PASS, np.int64),
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
def settle_shares(sources, usual, kind, moves):
    """What stays and moves at every source in a slot; what no event touches has its usual shares."""
    for c in range(sources.rows):
        hazard, kappa = moves.hazard[c], usual.kappa[kind, c]
        if hazard == 0.0:
            moves.stays[c], moves.moved[c] = usual.stays[kind, c], usual.moved[kind, c]
            moves.fresh_stays[c] = usual.fresh_stays[kind, c]
            moves.fresh_moved[c] = usual.fresh_moved[kind, c]
        else:
            shares = split(hazard, kappa)
            moves.stays[c], moves.moved[c], moves.fresh_stays[c], moves.fresh_moved[c] = shares
    for c in range(sources.rows, sources.shed.shape[0]):  # incoming material never stays
        moves.fresh_moved[c] = split(moves.hazard[c], 0.0)[1]
        moves.fresh_stays[c] = 0.0


@njit(cache=True, nogil=True)
def settle_losses(sources, slots, slot, tuning, usual, cleaning, history, moves):
    """Share left by cleaning (a share of cleanings fails) and slow die-off at the end of a slot."""
    kind, unit = slots.kind[slot], slots.unit[slot]
    for row in range(sources.rows):
        left, part = usual.after[kind, row], slots.cleaned[slot, row]
        if part > 0.0:
            word, _, _, _ = philox(
                sources.low[row], sources.high[row], history, unit, tuning.clean_key[0], tuning.clean_key[1]
            )
            if (np.float64(word) + 0.5) / WORD_SPAN < tuning.failure_share:
                part *= tuning.failed_part
            left *= np.exp(-LN_10 * sources.cleaning[row] * cleaning * part)
        moves.after[row] = left


@njit(cache=True, nogil=True)
def settle_niches(sources, slot, kind, usual, founded, start, state, moves):
    """Growth and shedding of every niche in a slot; nothing before it is founded."""
    for c in range(sources.shed.shape[0]):
        moves.shed[c] = 0.0
        if founded[c] > slot:
            continue
        if founded[c] == slot:
            state.level[c] = start[c]
        if c < sources.rows:
            state.level[c], moves.shed[c] = niche_step(
                state.level[c], usual.growth[kind, c], usual.shed[kind, c], usual.rise[kind, c], usual.gain[kind, c]
            )
        else:
            moves.shed[c] = usual.shed[kind, c] * state.level[c]


@njit(cache=True, nogil=True, inline="always")
def list_arrivals(state, moves, row):
    """The rows that give to a row in a slot, with their weights; the first place is left for the row itself."""
    rows, count = state.scale.shape[0], 1
    for n in range(moves.first[row], moves.first[row + 1]):
        i = moves.source[n]
        if i < rows:
            moves.weight[count] = moves.moved[i] * moves.eta[n] * state.scale[i]
            moves.base[count] = (state.current[i] * rows + i) * state.width
            count += 1
    moves.base[0] = (state.current[row] * rows + row) * state.width
    for n in range(count, count + A_PASS):
        moves.weight[n] = 0.0
        moves.base[n] = moves.base[0]
    return count


@njit(cache=True, nogil=True, inline="always")
def mix(loads, moves, count, own, factor, into):
    """Write own x the row itself + factor x what the listed rows give, four source rows a pass."""
    width, base, weight, scale = into.shape[0], moves.base, moves.weight, np.float32(factor)
    a, b = loads[base[0] : base[0] + width], loads[base[1] : base[1] + width]
    c, d = loads[base[2] : base[2] + width], loads[base[3] : base[3] + width]
    wa, wb, wc, wd = np.float32(own), scale * weight[1], scale * weight[2], scale * weight[3]
    for k in range(width):
        into[k] = wa * a[k] + wb * b[k] + wc * c[k] + wd * d[k]
    pairs = max(A_PASS, count - (count % A_PASS if count % A_PASS < 3 else 0))
    for n in range(A_PASS, pairs, A_PASS):
        a, b = loads[base[n] : base[n] + width], loads[base[n + 1] : base[n + 1] + width]
        c, d = loads[base[n + 2] : base[n + 2] + width], loads[base[n + 3] : base[n + 3] + width]
        wa, wb, wc, wd = scale * weight[n], scale * weight[n + 1], scale * weight[n + 2], scale * weight[n + 3]
        for k in range(width):
            into[k] += wa * a[k] + wb * b[k] + wc * c[k] + wd * d[k]
    for n in range(pairs, count, 2):
        p, q = loads[base[n] : base[n] + width], loads[base[n + 1] : base[n + 1] + width]
        wp, wq = scale * weight[n], scale * weight[n + 1]
        for k in range(width):
            into[k] += wp * p[k] + wq * q[k]


@njit(cache=True, nogil=True, inline="always")
def add_fresh(moves, row, factor, own, into, start):
    """Add what was shed in this slot: factor x what moved to the row, one element a transfer, and own on its own."""
    for n in range(moves.first[row], moves.first[row + 1]):
        i = moves.source[n]
        into[start + i] += np.float32(factor * moves.shed[i] * moves.fresh_moved[i] * moves.eta[n])
    into[start + row] += np.float32(own * moves.shed[row])


@njit(cache=True, nogil=True, fastmath={"contract"})
def read_rows(sources, usual, kind, state, moves, reading):
    """Loads of all rows at an occasion: after contact and carry-off, before cleaning and die-off."""
    for row in range(sources.rows):
        count, arrives = list_arrivals(state, moves, row), usual.arrives[kind, row]
        start = row * state.width
        own, into = moves.stays[row] * state.scale[row], reading[start : start + state.width]
        mix(state.loads, moves, count, own, arrives, into)
        add_fresh(moves, row, arrives, moves.fresh_stays[row], reading, start)


@njit(cache=True, nogil=True, inline="always")
def into_product(usual, kind, state, moves, row, count, taken, start):
    """Add what product carries off a row in this slot: of what lay there, of what arrived, of what was shed."""
    carried, width = usual.kappa[kind, row], state.width
    own = moves.moved[row] * carried * state.scale[row]
    gone = 1.0 - usual.arrives[kind, row]
    mix(state.loads, moves, count, own, gone, taken)
    add_fresh(moves, row, gone, moves.fresh_moved[row] * carried, taken, 0)
    product = state.product[start : start + width]
    for k in range(width):
        product[k] += taken[k]


@njit(cache=True, nogil=True, inline="always")
def shrink_row(state, left, row):
    """A row that receives nothing only loses: its scale carries that, its loads are not touched."""
    state.scale[row] *= left
    if state.scale[row] < SMALLEST_SCALE:
        base = (state.current[row] * state.scale.shape[0] + row) * state.width
        state.loads[base : base + state.width] *= np.float32(state.scale[row])
        state.scale[row] = 1.0


@njit(cache=True, nogil=True, fastmath={"contract"})
def move_slot(sources, usual, kind, day, days, state, moves, taken):
    """One slot on all rows at once: everything that moves was there when the slot began.

    Old loads lose slowly; what arrived or was shed also goes through the fast phase of die-off.
    """
    rows, width = sources.rows, state.width
    for row in range(rows):
        receives = moves.first[row + 1] > moves.first[row]
        into_line = day >= 0 and usual.kappa[kind, row] > 0.0
        if not receives and not into_line:
            continue
        count = list_arrivals(state, moves, row)
        if into_line:
            place = (sources.line[row] * days + day) * width
            into_product(usual, kind, state, moves, row, count, taken, place)
        if receives:
            start = ((1 - state.current[row]) * rows + row) * width
            own = moves.stays[row] * moves.after[row] * state.scale[row]
            new = sources.fast_survival[row] * usual.arrives[kind, row] * moves.after[row]
            mix(state.loads, moves, count, own, new, state.loads[start : start + width])
            add_fresh(moves, row, new, 0.0, state.loads, start)
    finish_slot(sources, state, moves)
    if day >= 0:
        _incoming_into_product(sources, day, days, state, moves)


@njit(cache=True, nogil=True)
def rest_slot(sources, state, moves):
    """A slot in which nothing runs: surfaces only lose to cleaning and die-off."""
    for row in range(sources.rows):
        shrink_row(state, moves.after[row], row)


@njit(cache=True, nogil=True, inline="always")
def finish_slot(sources, state, moves):
    """Turn the buffers of rows that received, shrink the others, and lay down what each niche left on its own row."""
    rows = sources.rows
    for row in range(rows):
        if moves.first[row + 1] > moves.first[row]:
            state.current[row] = 1 - state.current[row]
            state.scale[row] = 1.0
        else:
            shrink_row(state, moves.stays[row] * moves.after[row], row)
        if moves.shed[row] > 0.0:
            own = moves.shed[row] * moves.fresh_stays[row] * sources.fast_survival[row] * moves.after[row]
            place = (state.current[row] * rows + row) * state.width + row
            state.loads[place] += np.float32(own / state.scale[row])


@njit(cache=True, nogil=True, inline="always")
def _incoming_into_product(sources, day, days, state, moves):
    """Incoming material that no contact has taken off stays with the product of its line."""
    for c in range(sources.rows, sources.shed.shape[0]):
        kept = moves.shed[c] * (1.0 - moves.fresh_moved[c] * moves.hazard[c])
        state.product[(sources.line[c] * days + day) * state.width + c] += np.float32(kept)
