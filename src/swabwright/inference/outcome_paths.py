"""Outcomes of samples not yet taken, drawn from what is believed: paths on which further samples are weighed."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from swabwright.compute.draws import uniforms
from swabwright.compute.keys import counters, stream_key
from swabwright.compute.philox import philox_words
from swabwright.inference.labels import Labels

Array = npt.NDArray[np.float64]
FloatArray = npt.NDArray[np.float32]
IntArray = npt.NDArray[np.int64]
MIDDLE = 0.5
OUTCOMES, SHUFFLES = 1, 2
"""Purposes of the random streams of a next visit."""
STREAM = 61
"""Stands where the streams of histories have the number of their bank."""
SMALLEST = 1e-300


@dataclass(frozen=True)
class Foreseen:
    """What could be sampled, and the chance that each is reported detected, in every hypothesis.

    chance: (Q, S) float32, rows in order of label. weight: (S,) summing to 1. starts: (labels + 1,) where each label
    begins. site: (Q,). tie: (Q,) from site key, device and mode. order: (S,) the row that each place was before.
    """

    chance: FloatArray
    weight: Array
    starts: IntArray
    site: npt.NDArray[np.int32]
    tie: npt.NDArray[np.uint64]
    order: IntArray
    seed: int

    @property
    def rows(self) -> int:
        """How many hypotheses."""
        return int(self.weight.size)

    def shuffles(self, count: int) -> list[IntArray]:
        """Orders of the rows in which labels mean nothing, the same ones each time."""
        key = stream_key(self.seed, STREAM, SHUFFLES)
        rows = np.arange(self.rows, dtype=np.uint64)
        words = (uniforms(philox_words(counters(rows, turn, 0), key)[:, 0]) for turn in range(count))
        return [np.argsort(own, kind="stable") for own in words]


def foreseen(
    chance: FloatArray, weight: Array, labels: Labels, item_keys: tuple[npt.NDArray[np.int32], npt.NDArray[np.uint64]],
    seed: int,
) -> Foreseen:  # fmt: skip
    """The same with rows brought into order of their label; item_keys: site and tie key of each item."""
    order = np.argsort(labels.of_row, kind="stable")
    starts = np.searchsorted(labels.of_row[order], np.arange(labels.count + 1)).astype(np.int64)
    ordered = np.ascontiguousarray(chance[:, order])
    return Foreseen(ordered, weight[order] / weight.sum(), starts, *item_keys, order, seed)


class Paths:
    """Some paths of outcomes: on each a hypothesis is true, and items show what it makes them show."""

    def __init__(self, what: Foreseen, count: int) -> None:
        self._what, self.count = what, count
        points = (np.arange(count) + MIDDLE) / count
        running = np.cumsum(what.weight)
        self.true_row = np.minimum(np.searchsorted(running, points * running[-1]), what.rows - 1)

    def after(self, items: Sequence[int]) -> Array:
        """Weight of every row on every path once these items are reported, (J, S), each summing to 1."""
        weights = np.tile(self._what.weight, (self.count, 1))
        for item in sorted(items, key=lambda one: int(self._what.tie[one])):
            weights = self.further(weights, item)
        return weights

    def further(self, weights: Array, item: int) -> Array:
        """The weights once one more item is reported."""
        found, chance = self.found(item), self._what.chance[item].astype(np.float64)
        moved = weights * np.where(found[:, None], chance[None, :], 1.0 - chance[None, :])
        return np.asarray(moved / np.maximum(moved.sum(axis=1, keepdims=True), SMALLEST))

    def found(self, item: int) -> npt.NDArray[np.bool_]:
        """Whether the item is reported detected on each path; the draw hangs on the item's own key, (J,)."""
        key = stream_key(self._what.seed, STREAM, OUTCOMES)
        tie = np.full(self.count, self._what.tie[item], np.uint64)
        draws = uniforms(philox_words(counters(tie, np.arange(self.count, dtype=np.uint64), 0), key)[:, 0])
        return np.asarray(draws < self._what.chance[item][self.true_row])
