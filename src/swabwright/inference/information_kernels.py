"""Compiled: what a further result says of the label, on every path of outcomes."""

from functools import cache
from typing import Any

import numpy as np
import numpy.typing as npt
from numba import njit

FloatArray = npt.NDArray[np.float32]
Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
LOWEST_EXPONENT = -40
MANTISSA_BITS = 9
DROPPED_BITS = 23 - MANTISSA_BITS
FIRST = (127 + LOWEST_EXPONENT) << MANTISSA_BITS
LAST = 127 << MANTISSA_BITS
LOW_MASK = np.uint32((1 << DROPPED_BITS) - 1)
STEP = 1.0 / (1 << DROPPED_BITS)


@cache
def entropies() -> Array:
    """Bits of a yes or no at every chance whose float32 pattern ends after 9 mantissa bits, from 2^-40 to 1."""
    patterns = np.arange(FIRST, LAST + 1, dtype=np.uint32) << np.uint32(DROPPED_BITS)
    chance = patterns.view(np.float32).astype(np.float64)
    other = np.where(chance < 1.0, 1.0 - chance, 1.0)
    table: Array = -(chance * np.log2(chance) + other * np.log2(other))
    table.flags.writeable = False
    return table


@njit(cache=True, nogil=True, fastmath={"reassoc", "contract"})
def _dot(left: Array, right: FloatArray) -> float:
    # in float64, so that a gain comes out the same to many digits whatever a machine adds up together
    total = 0.0
    for row in range(left.shape[0]):
        total += left[row] * right[row]
    return total


@njit(inline="always", nogil=True)
def entropy_at(table: Array, chance: float) -> float:
    """Bits of a yes or no with this chance, from the table: to 1e-6 of itself up to one half."""
    rarer = min(chance, 1.0 - chance)
    bits = np.float32(rarer).view(np.uint32)
    index = np.int64(bits >> np.uint32(DROPPED_BITS)) - FIRST
    # so rare that there is nothing to learn
    if index < 0:
        return 0.0
    part = np.float64(bits & LOW_MASK) * STEP
    return float(table[index] + part * (table[index + 1] - table[index]))


@njit(cache=True, nogil=True)
def bits_on_paths(chance: FloatArray, table: Array, walked: tuple[Any, ...], out: Array) -> None:
    """Bits that one item says of the label on every path, into out (J,).

    chance: (S,) rows in order of label. walked: (J, S) weight of each row on each path, each summing to 1; (J, labels)
    of it by label; (labels + 1,) where each label begins.
    """
    paths, mass, starts = walked
    for path in range(paths.shape[0]):
        whole, within = 0.0, 0.0
        for label in range(starts.shape[0] - 1):
            weight = mass[path, label]
            if weight <= 0.0:
                continue
            first, last = starts[label], starts[label + 1]
            part = min(weight, _dot(paths[path, first:last], chance[first:last]))
            whole += part
            within += weight * entropy_at(table, part / weight)
        out[path] = entropy_at(table, whole) - within


@njit(cache=True, nogil=True)
def all_bits(
    chance: FloatArray, open_items: npt.NDArray[np.bool_], table: Array, walked: tuple[Any, ...], out: Array
) -> None:
    """Mean over paths of the bits of every open item, into out (Q,)."""
    each = np.empty(walked[0].shape[0])
    for item in range(chance.shape[0]):
        if open_items[item]:
            bits_on_paths(chance[item], table, walked, each)
            out[item] = each.mean()


@njit(cache=True, nogil=True)
def label_mass(paths: Array, starts: IntArray) -> Array:
    """Weight of every label on every path, (J, labels)."""
    out = np.zeros((paths.shape[0], starts.shape[0] - 1))
    for path in range(paths.shape[0]):
        for label in range(starts.shape[0] - 1):
            total = 0.0
            for row in range(starts[label], starts[label + 1]):
                total += paths[path, row]
            out[path, label] = total
    return out
