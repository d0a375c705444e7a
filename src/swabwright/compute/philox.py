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


def philox_words(counters: npt.ArrayLike, key: tuple[npt.ArrayLike, npt.ArrayLike]) -> WordArray:
    """The four words of each counter: counters (..., 4) of 32-bit words, key of two (or an array each); (..., 4)."""
    lanes = np.asarray(counters, dtype=np.uint64)
    c0, c1, c2, c3 = (lanes[..., lane] for lane in range(4))
    k0, k1 = np.asarray(key[0], dtype=np.uint64), np.asarray(key[1], dtype=np.uint64)
    for _ in range(ROUNDS):
        p0, p1 = MULTIPLIER_0 * c0, MULTIPLIER_1 * c2
        c0, c1, c2, c3 = (p1 >> SHIFT_32) ^ c1 ^ k0, p1 & LOW_32, (p0 >> SHIFT_32) ^ c3 ^ k1, p0 & LOW_32
        k0, k1 = (k0 + WEYL_0) & LOW_32, (k1 + WEYL_1) & LOW_32
    return np.stack([c0, c1, c2, c3], axis=-1).astype(np.uint32)
