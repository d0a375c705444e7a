"""A choice in the making: what is taken so far and what each row has left to find."""

from collections.abc import Iterable

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.planning.choose_finds import Finds

FloatArray = npt.NDArray[np.float32]
Array = npt.NDArray[np.float64]
GRAIN = 2.0**-40
"""Gains are whole multiples of this, so that equal gains are equal whatever the order of the sum."""


class Draft:
    """Items taken so far; `left` is weight x chance that none of them finds, per row of the objective, float64."""

    def __init__(self, finds: Finds, items: Iterable[int] = ()) -> None:
        self.finds = finds
        self.items: list[int] = []
        self.left: Array = finds.weight.copy()
        self.at_site: dict[int, list[int]] = {}
        for item in items:
            self.add(item)

    @property
    def value(self) -> float:
        """The objective of the items taken, 0 to 1."""
        return 1.0 - float(self.left.sum())

    def gain(self, item: int) -> float:
        """What the item adds to the objective; the one gain function of every search."""
        taken = self.at_site.get(int(self.finds.problem.site[item]))
        if taken:
            raw = float(self.left @ self.finds.further(taken, item))
        else:
            raw = weighted_sum(self.left, self.finds.chance[item])
        return float(np.round(raw / GRAIN) * GRAIN)

    def gains(self, items: npt.NDArray[np.int64]) -> Array:
        """The gain of each of the items, by the same function, in one pass."""
        gains = np.round(_weighted_sums(self.left, self.finds.chance, items) / GRAIN) * GRAIN
        for position in np.flatnonzero(np.isin(self.finds.problem.site[items], list(self.at_site))):
            gains[position] = self.gain(int(items[position]))
        return np.asarray(gains)

    def add(self, item: int) -> None:
        """Take the item."""
        taken = self.at_site.setdefault(int(self.finds.problem.site[item]), [])
        if taken:
            self.left *= 1.0 - self.finds.further(taken, item)
        else:
            _keep_unfound(self.left, self.finds.chance[item])
        taken.append(item)
        self.items.append(item)

    def closed_by(self, item: int) -> npt.NDArray[np.bool_]:
        """Items that taking `item` rules out, shape (Q,): itself and, at its site, every other mode."""
        return self.finds.problem.excluded_by(item)


@njit(cache=True, nogil=True, fastmath={"reassoc", "contract"})
def weighted_sum(left: Array, chance: FloatArray) -> float:
    """Sum over rows of left x chance, in float64."""
    total = 0.0
    for row in range(left.shape[0]):
        total += left[row] * chance[row]
    return total


@njit(cache=True, nogil=True)
def _weighted_sums(left: Array, chance: FloatArray, items: npt.NDArray[np.int64]) -> Array:
    out = np.empty(items.shape[0])
    for position in range(items.shape[0]):
        out[position] = weighted_sum(left, chance[items[position]])
    return out


@njit(cache=True, nogil=True)
def _keep_unfound(left: Array, chance: FloatArray) -> None:
    for row in range(left.shape[0]):
        left[row] *= 1.0 - chance[row]
