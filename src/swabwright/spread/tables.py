"""The arrays that the compiled kernels read, one named tuple a subject."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int32]
Longs = npt.NDArray[np.uint64]


class Lanes(NamedTuple):
    """Random words of the streams of one copy: blocks of four lanes that share one counter.

    low, high, block: counter parts, shape (blocks,). The rest has one entry a lane, shape (4 blocks,):
    stream (-1 for a hole), rate in 8 running hours (0 for a hole), mechanism, clock.
    """

    low: Longs
    high: Longs
    block: Longs
    stream: Ints
    rate: Floats
    mechanism: Ints
    clock: Ints


class Streams(NamedTuple):
    """Streams of one copy: source, mechanism, fraction, random word, and targets from first[k] to first[k + 1]."""

    source: Ints
    mechanism: Ints
    fraction: Floats
    low: Longs
    high: Longs
    word: Longs
    first: Ints
    target: Ints
    share: Floats


class Slots(NamedTuple):
    """Slots of a clock; slots of one kind have the same length and running hours.

    cleaned: part of a full cleaning that ends in the slot, shape (slots, sources). reads: occasions read in
    a slot, from read_first[t] to read_first[t + 1].
    """

    unit: Longs
    kind: Ints
    hours: Floats
    running: Floats
    day: Ints
    cleaned: Floats
    read_first: Ints
    reads: Ints


class Sources(NamedTuple):
    """Ecology of every source, with the hash its cleaning outcomes hang on; rows come before incoming material."""

    rows: int
    low: Longs
    high: Longs
    clock: Ints
    shed: Floats
    growth: Floats
    cleaning: Floats
    die_off: Floats
    fast_survival: Floats
    carry_off: Floats
    emitted: Floats
    line: Ints


class Draws(NamedTuple):
    """Draws of some histories: per history, per (history, mechanism) and per (history, source).

    founded: the first slot in which the niche is there. kept: share of its level that a treatment leaves.
    """

    history: Longs
    rate: Floats
    fraction: Floats
    shedding: Floats
    growth: Floats
    cleaning: Floats
    die_off: Floats
    level: Floats
    founded: Ints
    kept: Floats


class Tuning(NamedTuple):
    """Numbers common to all histories: keys of the random words, steps of the event size, cleaning, cut-off.

    treated: the slot before which all niches are treated, -1 for none.
    """

    event_key: Longs
    size_key: Longs
    clean_key: Longs
    sizes: Floats
    failure_share: float
    failed_part: float
    cutoff: float
    lines: int
    days: int
    occasions: int
    treated: int
