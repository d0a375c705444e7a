"""Philox 4x32-10: counter-based random words, so that any draw can be made again anywhere, in any order.

Salmon, Moraes, Dror and Shaw, Parallel random numbers: as easy as 1, 2, 3, SC 2011,
https://doi.org/10.1145/2063384.2063405.
"""

import numpy as np
import numpy.typing as npt
from numba import njit

WordArray = npt.NDArray[np.uint32]

MULTIPLIER_0 = np.uint64(0xD2511F53)
MULTIPLIER_1 = np.uint64(0xCD9E8D57)
WEYL_0 = np.uint64(0x9E3779B9)
WEYL_1 = np.uint64(0xBB67AE85)
LOW_32 = np.uint64(0xFFFFFFFF)
SHIFT_32 = np.uint64(32)
ROUNDS = 10


@njit(cache=True, nogil=True, inline="always")
def philox(  # type: ignore[no-untyped-def]  # compiled; all six are uint64 lanes that hold 32-bit words
    c0, c1, c2, c3, k0, k1
):
    """The four 32-bit words (as uint64) of one counter under one key."""
    for _ in range(ROUNDS):
        p0 = MULTIPLIER_0 * c0
        p1 = MULTIPLIER_1 * c2
        c0, c1, c2, c3 = (p1 >> SHIFT_32) ^ c1 ^ k0, p1 & LOW_32, (p0 >> SHIFT_32) ^ c3 ^ k1, p0 & LOW_32
        k0 = (k0 + WEYL_0) & LOW_32
        k1 = (k1 + WEYL_1) & LOW_32
    return c0, c1, c2, c3


def philox_words(counters: npt.ArrayLike, key: tuple[int, int]) -> WordArray:
    """The four words of each counter: counters (..., 4) of 32-bit words, key of two words; shape (..., 4)."""
    lanes = np.ascontiguousarray(counters, dtype=np.uint64)
    words = np.empty(lanes.shape, np.uint32)
    fill_words(lanes.reshape(-1, 4), np.uint64(key[0]), np.uint64(key[1]), words.reshape(-1, 4))
    return words


@njit(cache=True, nogil=True)
def fill_words(  # type: ignore[no-untyped-def]  # compiled; counters and words (n, 4), the key in two words
    counters, k0, k1, words
):
    """Write the words of all counters."""
    for n in range(counters.shape[0]):
        a, b, c, d = philox(counters[n, 0], counters[n, 1], counters[n, 2], counters[n, 3], k0, k1)
        words[n, 0], words[n, 1], words[n, 2], words[n, 3] = a, b, c, d


def plain_philox_words(counters: npt.ArrayLike, key: tuple[npt.ArrayLike, npt.ArrayLike]) -> WordArray:
    """The same without a compiler; each part of the key may be an array over the counters."""
    lanes = np.asarray(counters, dtype=np.uint64)
    c0, c1, c2, c3 = (lanes[..., lane] for lane in range(4))
    k0, k1 = np.asarray(key[0], dtype=np.uint64), np.asarray(key[1], dtype=np.uint64)
    for _ in range(ROUNDS):
        p0, p1 = MULTIPLIER_0 * c0, MULTIPLIER_1 * c2
        c0, c1, c2, c3 = (p1 >> SHIFT_32) ^ c1 ^ k0, p1 & LOW_32, (p0 >> SHIFT_32) ^ c3 ^ k1, p0 & LOW_32
        k0, k1 = (k0 + WEYL_0) & LOW_32, (k1 + WEYL_1) & LOW_32
    return np.stack([c0, c1, c2, c3], axis=-1).astype(np.uint32)
