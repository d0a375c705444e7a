"""The smooth relaxation: items taken in part, each row's chance 1 - exp(-sum of a x); bounded by Frank and Wolfe."""

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.planning.bound_limits import RelaxedLimits
from swabwright.planning.envelope_cuts import CutMaker

Array = npt.NDArray[np.float64]
FloatArray = npt.NDArray[np.float32]
NEWTON_STEPS = 3


def smooth_bound(maker: CutMaker, limits: RelaxedLimits, start: Array, until: tuple[int, float]) -> float:
    """The least of value + duality gap over the rounds: no allowed choice finds more. Never the value alone.

    start: an x in [0, 1]^Q. until: (rounds, another bound), left as soon as its value is above that one,
    as no later round can come below the value reached. Frank and Wolfe, Naval Research Logistics 1956;3:95.
    """
    rounds, other = until
    load = _loads(maker.exponent, start)
    point, best = start, np.inf
    for _ in range(rounds):
        left = maker.weight * np.exp(-load)
        slope = _slopes(maker.exponent, left)
        reached, corner = limits.maximise(slope)
        value = float(maker.weight.sum() - left.sum())
        best = min(best, value + max(0.0, reached - float(slope @ point)))
        towards = _loads(maker.exponent, corner) - load
        step = _best_step(left, towards)
        if step <= 0.0 or value > other:
            break
        load = load + step * towards
        point = point + step * (corner - point)
    return float(best)


def _best_step(left: Array, towards: Array) -> float:
    """The share of the way that leaves least unfound, by Newton's method kept inside 0 to 1."""
    step = 0.0
    for _ in range(NEWTON_STEPS):
        remaining = left * np.exp(-step * towards)
        first = float(remaining @ towards)
        second = float(remaining @ np.square(towards))
        if second <= 0.0:
            return step
        step = min(1.0, max(0.0, step + first / second))
    return step


def _loads(exponent: FloatArray, point: Array) -> Array:
    """Sum over items of a x in each row."""
    taken = np.flatnonzero(point > 0)
    load = np.zeros(exponent.shape[1])
    for item in taken:
        load += point[item] * exponent[item]
    return load


@njit(cache=True, nogil=True, fastmath={"reassoc", "contract"})
def _slopes(exponent: FloatArray, left: Array) -> Array:
    out = np.empty(exponent.shape[0])
    for item in range(exponent.shape[0]):
        row_of_item = exponent[item]
        total = 0.0
        for row in range(left.shape[0]):
            total += left[row] * row_of_item[row]
        out[item] = total
    return out
