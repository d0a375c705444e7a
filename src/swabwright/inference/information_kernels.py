"""Compiled: what a further result says of the label, on every path of outcomes."""

from typing import Any

import numpy as np
import numpy.typing as npt
from numba import njit

FloatArray = npt.NDArray[np.float32]
Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]


@njit(cache=True, nogil=True, fastmath={"reassoc", "contract"})
def _dot(left: Array, right: FloatArray) -> float:
    # in float64, so that a gain comes out the same to many digits whatever a machine adds up together
    total = 0.0
    for row in range(left.shape[0]):
        total += left[row] * right[row]
    return total


@njit(cache=True, nogil=True)
def _entropy(chance: float) -> float:
    """Bits of a yes or no with this chance."""
    if chance <= 0.0 or chance >= 1.0:
        return 0.0
    return float(-(chance * np.log2(chance) + (1.0 - chance) * np.log2(1.0 - chance)))


@njit(cache=True, nogil=True)
def bits_on_paths(chance: FloatArray, paths: Array, mass: Array, starts: IntArray, out: Array) -> None:
    """Bits that one item says of the label on every path, into out (J,).

    chance: (S,) rows in order of label. paths: (J, S) weight of each row on each path, each summing to 1. mass:
    (J, labels) of it by label. starts: (labels + 1,).
    """
    for path in range(paths.shape[0]):
        whole, within = 0.0, 0.0
        for label in range(starts.shape[0] - 1):
            weight = mass[path, label]
            if weight <= 0.0:
                continue
            first, last = starts[label], starts[label + 1]
            part = min(weight, _dot(paths[path, first:last], chance[first:last]))
            whole += part
            within += weight * _entropy(part / weight)
        out[path] = _entropy(whole) - within


@njit(cache=True, nogil=True)
def all_bits(chance: FloatArray, open_items: npt.NDArray[np.bool_], walked: tuple[Any, ...], out: Array) -> None:
    """Mean over paths of the bits of every open item, into out (Q,)."""
    paths, mass, starts = walked
    each = np.empty(paths.shape[0])
    for item in range(chance.shape[0]):
        if open_items[item]:
            bits_on_paths(chance[item], paths, mass, starts, each)
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
