"""Compiled, first stage of a history: every contact event of every slot, as transfers from row to row."""

# mypy: disable-error-code="no-untyped-def"

from typing import NamedTuple

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.compute.philox import philox

LANES = 4
LAST_WORD = 4294967295.0
WORD_SPAN = 4294967296.0
BLOCKS_BITS = np.uint64(13)
"""Of the fourth counter word: room for 8,192 blocks of four streams at one source, the rest is the slot."""
ROUND_BITS = np.uint64(24)
"""Of the third counter word: histories stay below 2**24, the rest numbers further calls for one stream."""
SIZE_SHIFT = np.uint64(20)
LARGEST_MOVED = 0.5
MOST_EVENTS = 700
SERIES_BELOW = 0.1
"""Below it eight terms of the series of -log(1 - x) are right to one in 10^9."""
SQUARINGS = 8


class Events(NamedTuple):
    """Transfers of one history: slot t has entries first[t] to first[t + 1]; eta is the hazard they add."""

    first: npt.NDArray[np.int32]
    source: npt.NDArray[np.int32]
    target: npt.NDArray[np.int32]
    eta: npt.NDArray[np.float64]


class ActiveBlocks(NamedTuple):
    """Blocks with any chance of an event, by slot kind from first[kind] to first[kind + 1].

    number: of the block. parts: its counter parts, shape (3, n). limits: chance of each lane as a word, (4, n).
    """

    first: npt.NDArray[np.int32]
    number: npt.NDArray[np.int32]
    parts: npt.NDArray[np.uint64]
    limits: npt.NDArray[np.uint32]


@njit(cache=True, nogil=True)
def hit_thresholds(lanes, slots, rate):
    """Chance of at least one event by slot kind and lane, 1 - exp(-x), as a 32-bit word; one loop that vectorises."""
    kinds, width = slots.running.shape[0], lanes.rate.shape[0]
    words = np.zeros((kinds, width), np.uint32)
    scaled = np.empty(width, np.float64)
    for lane in range(width):
        scaled[lane] = lanes.rate[lane] * rate[lanes.mechanism[lane]] / 8.0
    for kind in range(kinds):
        running = slots.running[kind]
        if running.max() == 0.0:
            continue
        for lane in range(width):
            y = min(scaled[lane] * running[lanes.clock[lane]], 20.0) / 256.0
            left = 1.0 - y * (1.0 - y / 2 * (1.0 - y / 3 * (1.0 - y / 4 * (1.0 - y / 5))))
            for _ in range(SQUARINGS):
                left *= left
            words[kind, lane] = np.uint32(min((1.0 - left) * WORD_SPAN, LAST_WORD))
    return words


@njit(cache=True, nogil=True)
def active_blocks(lanes, chances):
    """Blocks with any chance of an event, gathered by slot kind so that the loops over them vectorise."""
    kinds, blocks, count = chances.shape[0], chances.shape[1] // LANES, 0
    first, number = np.zeros(kinds + 1, np.int32), np.empty(kinds * blocks, np.int32)
    parts, limits = np.empty((3, kinds * blocks), np.uint64), np.empty((LANES, kinds * blocks), np.uint32)
    for kind in range(kinds):
        for block in range(blocks):
            some = np.uint32(0)
            for lane in range(LANES):
                limits[lane, count] = chances[kind, block * LANES + lane]
                some |= limits[lane, count]
            number[count] = block
            parts[0, count], parts[1, count], parts[2, count] = lanes.low[block], lanes.high[block], lanes.block[block]
            count += some != 0
        first[kind + 1] = count
    return ActiveBlocks(first, number, parts, limits)


@njit(cache=True, nogil=True)
def draw_words(parts, history, unit, key_0, key_1, words):
    """The event words of blocks (three counter parts each) in one slot, shape (4, blocks); a loop that vectorises."""
    slot, low, high, block = unit << BLOCKS_BITS, parts[0], parts[1], parts[2]
    a, b, c, d = words[0], words[1], words[2], words[3]
    for n in range(low.shape[0]):
        fourth = (slot | block[n]) & np.uint64(0xFFFFFFFF)
        a[n], b[n], c[n], d[n] = philox(low[n], high[n], history, fourth, key_0, key_1)


@njit(cache=True, nogil=True)
def find_hits(number, limits, words, hits):
    """Lanes whose word lies below their chance; branch-free, returns how many."""
    count = 0
    for n in range(number.shape[0]):
        start = number[n] * LANES
        for lane in range(LANES):
            hits[count] = start + lane
            count += words[lane, n] < limits[lane, n]
    return count


@njit(cache=True, nogil=True)
def events_given_one(word, x):
    """Number of events of a Poisson with mean x, given that there is at least one: by inversion of one word."""
    u = (np.float64(word) + 0.5) / WORD_SPAN
    if u < 1.0 - x / 2:  # x / (e^x - 1), the chance of exactly one, is never less than this
        return 1
    u *= -np.expm1(-x)
    chance = x * np.exp(-x)
    below, count = chance, 1
    while u > below and count < MOST_EVENTS:
        count += 1
        chance *= x / count
        below += chance
    return count


@njit(cache=True, nogil=True)
def hazard_of(moved):
    """-log(1 - moved), by its series where that is exact enough."""
    if moved > SERIES_BELOW:
        return -np.log1p(-moved)
    tail = 1 / 4 + moved * (1 / 5 + moved * (1 / 6 + moved * (1 / 7 + moved / 8)))
    return moved * (1.0 + moved * (1 / 2 + moved * (1 / 3 + moved * tail)))


@njit(cache=True, nogil=True)
def size_slot(unit, word):
    """Fourth counter word of the calls that give the sizes of one stream's events in a slot."""
    return ((unit << BLOCKS_BITS) | (word >> np.uint64(2))) & np.uint64(0xFFFFFFFF)


@njit(cache=True, nogil=True)
def draw_size_words(hits, count, lanes, streams, unit, history, key, drawn):
    """First four words of the sizes of every stream with an event: gathered first, so that the rounds vectorise."""
    for n in range(count):
        stream = lanes.stream[hits[n]]
        word = streams.word[stream]
        drawn[0, n], drawn[1, n] = streams.low[stream], streams.high[stream]
        drawn[2, n], drawn[3, n] = word & np.uint64(3), size_slot(unit, word)
    a, b, c, d = drawn[0], drawn[1], drawn[2], drawn[3]
    for n in range(count):
        a[n], b[n], c[n], d[n] = philox(a[n], b[n], history, d[n], key[0], key[1] + c[n])


@njit(cache=True, nogil=True)
def further_hazard(stream, left, usual, unit, history, streams, tuning):
    """Summed hazard of the events beyond the first three of a stream in a slot: three sizes a call."""
    word, key, total, call = streams.word[stream], tuning.size_key, 0.0, np.uint64(0)
    while left > 0:
        call += np.uint64(1)
        third, fourth = history | (call << ROUND_BITS), size_slot(unit, word)
        low, high = streams.low[stream], streams.high[stream]
        a, b, c, _ = philox(low, high, third, fourth, key[0], key[1] + (word & np.uint64(3)))
        for size in (a, b, c):
            if left > 0:
                total += hazard_of(min(LARGEST_MOVED, usual * tuning.sizes[size >> SIZE_SHIFT]))
                left -= 1
    return total


@njit(cache=True, nogil=True)
def hazards_of_slot(hits, count, lanes, streams, slots, slot, tuning, multipliers, history, drawn, hazards):
    """Summed hazard of the events of every stream with one: -log(1 - min(0.5, fraction x multiplier x size)) each."""
    rate, fraction = multipliers
    running, sizes = slots.running[slots.kind[slot]], tuning.sizes
    for n in range(count):
        lane = hits[n]
        stream, mechanism = lanes.stream[lane], lanes.mechanism[lane]
        x = lanes.rate[lane] * rate[mechanism] * running[lanes.clock[lane]] / 8.0
        usual, number = streams.fraction[stream] * fraction[mechanism], events_given_one(drawn[0, n], x)
        total = hazard_of(min(LARGEST_MOVED, usual * sizes[drawn[1, n] >> SIZE_SHIFT]))
        if number > 1:
            total += hazard_of(min(LARGEST_MOVED, usual * sizes[drawn[2, n] >> SIZE_SHIFT]))
        if number > 2:
            total += hazard_of(min(LARGEST_MOVED, usual * sizes[drawn[3, n] >> SIZE_SHIFT]))
        if number > 3:
            total += further_hazard(stream, number - 3, usual, slots.unit[slot], history, streams, tuning)
        hazards[n] = total


@njit(cache=True, nogil=True)
def write_transfers(hits, happened, hazards, lanes, streams, events, count):
    """One transfer for each target of each stream with an event; returns how many there are by now."""
    first, source, target, eta = streams.first, events.source, events.target, events.eta
    targets, shares = streams.target, streams.share
    for n in range(happened):
        stream = lanes.stream[hits[n]]
        giver, whole = streams.source[stream], hazards[n]
        for entry in range(first[stream], first[stream + 1]):
            source[count] = giver
            target[count] = targets[entry]
            eta[count] = whole * shares[entry]
            count += 1
    return count


@njit(cache=True, nogil=True)
def with_room(events, count, more):
    """The same events with room for so many more transfers."""
    room = events.source.shape[0]
    if count + more <= room:
        return events
    room = 2 * room + more
    return Events(events.first, _longer(events.source, room), _longer(events.target, room), _longer(events.eta, room))


@njit(cache=True, nogil=True)
def draw_events(lanes, streams, slots, tuning, rate, fraction, history):
    """All transfers of one history: rate and fraction are its multipliers by mechanism."""
    width, slot_count, count = lanes.rate.shape[0], slots.unit.shape[0], 0
    active = active_blocks(lanes, hit_thresholds(lanes, slots, rate))
    words, hits, multipliers = np.empty((LANES, width), np.uint64), np.empty(width + 1, np.int32), (rate, fraction)
    drawn, hazards = np.empty((4, width), np.uint64), np.empty(width, np.float64)
    events = Events(np.zeros(slot_count + 1, np.int32), np.empty(0, np.int32), np.empty(0, np.int32), np.empty(0))
    for slot in range(slot_count):
        kind, unit = slots.kind[slot], slots.unit[slot]
        a, b = active.first[kind], active.first[kind + 1]
        if a < b:
            draw_words(active.parts[:, a:b], history, unit, tuning.event_key[0], tuning.event_key[1], words)
            happened = find_hits(active.number[a:b], active.limits[:, a:b], words, hits)
            draw_size_words(hits, happened, lanes, streams, unit, history, tuning.size_key, drawn)
            hazards_of_slot(hits, happened, lanes, streams, slots, slot, tuning, multipliers, history, drawn, hazards)
            events = with_room(events, count, streams.target.shape[0])
            count = write_transfers(hits, happened, hazards, lanes, streams, events, count)
        events.first[slot + 1] = count
    return Events(events.first, events.source[:count], events.target[:count], events.eta[:count])


@njit(cache=True, nogil=True)
def _longer(values, room):
    longer = np.empty(room, values.dtype)
    longer[: values.shape[0]] = values
    return longer
