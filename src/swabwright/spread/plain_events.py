"""The events of a history without a compiler: the same words, the same transfers, drawn for all slots at once."""

import numpy as np
import numpy.typing as npt

from swabwright.compute.keys import LOW_32
from swabwright.compute.philox import WordArray, plain_philox_words
from swabwright.spread.events import BLOCKS_BITS, LANES, LARGEST_MOVED, MOST_EVENTS, ROUND_BITS, SIZE_SHIFT, Events
from swabwright.spread.tables import Floats, Ints, Lanes, Longs, Slots, Streams, Tuning

WORD_SPAN = 2.0**32
WORDS_OF_SIZES = 3
"""Words of a call that are sizes; of the first call the one before them gives the number of events."""


def plain_events(tables: tuple[Lanes, Streams, Slots, Tuning], rate: Floats, fraction: Floats, history: int) -> Events:
    """All transfers of one history, in the same order as the compiled form draws them."""
    lanes, streams, slots, tuning = tables
    per_lane = lanes.rate * rate[lanes.mechanism] / 8.0
    mean = per_lane[None, :] * slots.running[:, lanes.clock]
    slot, lane = _hits(lanes, slots, tuning, -np.expm1(-mean), history)
    stream = lanes.stream[lane]
    usual = (streams.fraction * fraction[streams.mechanism])[stream]
    words = _SizeWords(streams, tuning, (stream, slots.unit[slot]), history)
    hazard = _hazards(words, mean[slots.kind[slot], lane], usual, tuning)
    return _transfers(streams, slots, (slot, stream), hazard)


def _hits(
    lanes: Lanes, slots: Slots, tuning: Tuning, chance: Floats, history: int
) -> tuple[npt.NDArray[np.intp], npt.NDArray[np.intp]]:
    """Slots and lanes in which something happens, in order of slot and lane."""
    some = np.flatnonzero(chance.max(axis=1)[slots.kind] > 0)
    blocks = np.flatnonzero(chance.max(axis=0).reshape(-1, LANES).max(axis=1) > 0)
    fourth = ((slots.unit[some, None] << BLOCKS_BITS) | lanes.block[None, blocks]) & np.uint64(LOW_32)
    words = _words((lanes.low[blocks], lanes.high[blocks]), np.uint64(history), fourth, tuning.event_key)
    flat = words.reshape(len(some), -1)
    lane = (blocks[:, None] * LANES + np.arange(LANES)).reshape(-1)
    limit = np.minimum(chance * WORD_SPAN, WORD_SPAN - 1).astype(np.uint32)
    row, column = np.nonzero(flat < limit[slots.kind[some]][:, lane])
    return some[row], lane[column]


def _words(hashes: tuple[Longs, Longs], third: npt.ArrayLike, fourth: npt.ArrayLike, key: npt.ArrayLike) -> WordArray:
    low, high, c2, c3 = np.broadcast_arrays(*hashes, np.asarray(third), np.asarray(fourth))
    k0, k1 = np.asarray(key)[..., 0], np.asarray(key)[..., 1]
    return plain_philox_words(np.stack([low, high, c2, c3], axis=-1), (k0, k1))


class _SizeWords:
    """The words that give each stream with an event its number of events and their sizes."""

    def __init__(self, streams: Streams, tuning: Tuning, which: tuple[Ints, Longs], history: int) -> None:
        stream, unit = which
        word = streams.word[stream]
        self._hashes = streams.low[stream], streams.high[stream]
        self._fourth = ((unit << BLOCKS_BITS) | (word >> np.uint64(2))) & np.uint64(LOW_32)
        key_1 = tuning.size_key[1] + (word & np.uint64(3))
        self._key = np.stack([np.broadcast_to(tuning.size_key[0], key_1.shape), key_1], axis=-1)
        self._history = history

    def call(self, number: int) -> WordArray:
        """The four words of call `number`, one row a stream with an event."""
        third = np.uint64(self._history) | (np.uint64(number) << ROUND_BITS)
        return _words(self._hashes, third, self._fourth, self._key)


def _hazards(words: _SizeWords, mean: Floats, usual: Floats, tuning: Tuning) -> Floats:
    """Summed hazard of each stream with an event: sizes come three to a call."""
    first = words.call(0)
    left = _events_given_one(first[:, 0], mean)
    sizes, hazard, call = first[:, 1:], np.zeros(len(mean)), 0
    while left.any():
        for place in range(WORDS_OF_SIZES):
            moved = np.minimum(LARGEST_MOVED, usual * tuning.sizes[sizes[:, place] >> np.uint32(SIZE_SHIFT)])
            hazard -= np.where(left > 0, np.log1p(-moved), 0.0)
            left = np.maximum(left - 1, 0)
        call += 1
        sizes = words.call(call)[:, :WORDS_OF_SIZES] if left.any() else sizes
    return hazard


def _events_given_one(word: npt.NDArray[np.uint32], mean: Floats) -> npt.NDArray[np.int64]:
    """Number of events of a Poisson, given at least one: by inversion."""
    u = (word.astype(np.float64) + 0.5) / WORD_SPAN * -np.expm1(-mean)
    chance = mean * np.exp(-mean)
    below, count = chance.copy(), np.ones(len(mean), np.int64)
    more = u > below
    while more.any() and count.max(initial=0) < MOST_EVENTS:
        count[more] += 1
        chance = np.where(more, chance * mean / count, chance)
        below += np.where(more, chance, 0.0)
        more = u > below
    return count


def _transfers(streams: Streams, slots: Slots, which: tuple[npt.NDArray[np.intp], Ints], hazard: Floats) -> Events:
    """One transfer for each target of each stream with an event."""
    slot, stream = which
    counts = streams.first[stream + 1] - streams.first[stream]
    of = np.repeat(np.arange(len(stream)), counts)
    entry = streams.first[stream][of] + np.arange(len(of)) - np.repeat(np.cumsum(counts) - counts, counts)
    first = np.searchsorted(slot[of], np.arange(len(slots.unit) + 1)).astype(np.int32)
    return Events(first, streams.source[stream[of]], streams.target[entry], hazard[of] * streams.share[entry])
