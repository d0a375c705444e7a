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
SQUARINGS = 8


class Events(NamedTuple):
    """Transfers of one history: slot t has entries first[t] to first[t + 1]; eta is the hazard they add."""

    first: npt.NDArray[np.int32]
    source: npt.NDArray[np.int32]
    target: npt.NDArray[np.int32]
    eta: npt.NDArray[np.float64]


@njit(cache=True, nogil=True)
def hit_thresholds(lanes, slots, rate):
    """Chance of at least one event by slot kind and lane, 1 - exp(-x), as a 32-bit word; one loop that vectorises."""
    kinds, width = slots.running.shape[0], lanes.rate.shape[0]
    words = np.empty((kinds, width), np.uint32)
    scaled = np.empty(width, np.float64)
    for lane in range(width):
        scaled[lane] = lanes.rate[lane] * rate[lanes.mechanism[lane]] / 8.0
    for kind in range(kinds):
        running = slots.running[kind]
        for lane in range(width):
            y = min(scaled[lane] * running[lanes.clock[lane]], 20.0) / 256.0
            left = 1.0 - y * (1.0 - y / 2 * (1.0 - y / 3 * (1.0 - y / 4 * (1.0 - y / 5))))
            for _ in range(SQUARINGS):
                left *= left
            words[kind, lane] = np.uint32(min((1.0 - left) * WORD_SPAN, LAST_WORD))
    return words


@njit(cache=True, nogil=True)
def active_blocks(words):
    """Blocks with any chance of an event, by slot kind: first[kind] to first[kind + 1] of the list."""
    kinds, blocks = words.shape[0], words.shape[1] // LANES
    first = np.zeros(kinds + 1, np.int32)
    listed = np.empty(kinds * blocks, np.int32)
    count = 0
    for kind in range(kinds):
        for block in range(blocks):
            chances = words[kind, block * LANES : block * LANES + LANES]
            listed[count] = block
            count += (chances[0] | chances[1] | chances[2] | chances[3]) != 0
        first[kind + 1] = count
    return first, listed


@njit(cache=True, nogil=True)
def draw_words(lanes, listed, history, unit, key, words):
    """The event words of all listed blocks in one slot, four to a block; a plain loop that vectorises."""
    slot = unit << BLOCKS_BITS
    for n in range(listed.shape[0]):
        block = listed[n]
        fourth = (slot | lanes.block[block]) & np.uint64(0xFFFFFFFF)
        a, b, c, d = philox(lanes.low[block], lanes.high[block], history, fourth, key[0], key[1])
        words[LANES * n] = np.uint32(a)
        words[LANES * n + 1] = np.uint32(b)
        words[LANES * n + 2] = np.uint32(c)
        words[LANES * n + 3] = np.uint32(d)


@njit(cache=True, nogil=True)
def find_hits(listed, words, chances, hits):
    """Lanes whose word lies below their chance; branch-free, returns how many."""
    count = 0
    for n in range(listed.shape[0]):
        start = listed[n] * LANES
        for lane in range(LANES):
            hits[count] = start + lane
            count += words[LANES * n + lane] < chances[start + lane]
    return count


@njit(cache=True, nogil=True)
def events_given_one(word, x):
    """Number of events of a Poisson with mean x, given that there is at least one: by inversion of one word."""
    u = (np.float64(word) + 0.5) / WORD_SPAN * -np.expm1(-x)
    chance = x * np.exp(-x)
    below, count = chance, 1
    while u > below and count < MOST_EVENTS:
        count += 1
        chance *= x / count
        below += chance
    return count


@njit(cache=True, nogil=True)
def hazard_of_events(stream, x, usual, unit, history, streams, tuning):
    """Summed hazard of the events of one stream in one slot: -log(1 - min(0.5, usual x size)) for each event.

    usual: fraction x its multiplier. The stream's own words give the number of events and then their sizes.
    """
    index = streams.word[stream]
    fourth = ((unit << BLOCKS_BITS) | (index >> np.uint64(2))) & np.uint64(0xFFFFFFFF)
    low, high = streams.low[stream], streams.high[stream]
    key_0, key_1 = tuning.size_key[0], tuning.size_key[1] + (index & np.uint64(3))
    word, a, b, c = philox(low, high, history, fourth, key_0, key_1)
    left = events_given_one(word, x)
    total, call = 0.0, np.uint64(0)
    while left > 0:
        total -= np.log1p(-min(LARGEST_MOVED, usual * tuning.sizes[a >> SIZE_SHIFT]))
        left, a, b = left - 1, b, c
        call += np.uint64(1)
        if left > 0 and call % np.uint64(3) == 0:
            third = history | ((call // np.uint64(3)) << ROUND_BITS)
            a, b, c, _ = philox(low, high, third, fourth, key_0, key_1)
    return total


@njit(cache=True, nogil=True)
def draw_events(lanes, streams, slots, tuning, rate, fraction, history):
    """All transfers of one history: rate and fraction are its multipliers by mechanism."""
    chances = hit_thresholds(lanes, slots, rate)
    block_first, blocks = active_blocks(chances)
    words = np.empty(lanes.rate.shape[0], np.uint32)
    hits = np.empty(lanes.rate.shape[0] + 1, np.int32)
    count, slot_count = 0, slots.unit.shape[0]
    first = np.zeros(slot_count + 1, np.int32)
    room = 64 * slot_count + 1024
    source, target, eta = np.empty(room, np.int32), np.empty(room, np.int32), np.empty(room, np.float64)
    for slot in range(slot_count):
        kind, unit = slots.kind[slot], slots.unit[slot]
        listed = blocks[block_first[kind] : block_first[kind + 1]]
        draw_words(lanes, listed, history, unit, tuning.event_key, words)
        for n in range(find_hits(listed, words, chances[kind], hits)):
            stream, lane = lanes.stream[hits[n]], hits[n]
            mechanism = streams.mechanism[stream]
            x = lanes.rate[lane] * rate[mechanism] * slots.running[kind, lanes.clock[lane]] / 8.0
            usual = streams.fraction[stream] * fraction[mechanism]
            whole = hazard_of_events(stream, x, usual, unit, history, streams, tuning)
            last = streams.first[stream + 1]
            if count + last - streams.first[stream] > room:
                room *= 2
                source, target, eta = _longer(source, room), _longer(target, room), _longer(eta, room)
            for entry in range(streams.first[stream], last):
                if streams.share[entry] > 0.0:
                    source[count] = streams.source[stream]
                    target[count] = streams.target[entry]
                    eta[count] = whole * streams.share[entry]
                    count += 1
        first[slot + 1] = count
    return Events(first, source[:count], target[:count], eta[:count])


@njit(cache=True, nogil=True)
def _longer(values, room):
    longer = np.empty(room, values.dtype)
    longer[: values.shape[0]] = values
    return longer
