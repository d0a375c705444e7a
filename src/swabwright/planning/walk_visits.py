"""One visit to a room: its sites block by block, rank never falling, priced from every entry to every exit."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from swabwright.planning.walk_blocks import block_path

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
PriceBlock = Callable[[FloatArray], FloatArray]


@dataclass(frozen=True)
class RoomVisit:
    """The sites of one room in one pass, as blocks of equal rank in order of rank."""

    blocks: tuple[IntArray, ...]
    inner: tuple[FloatArray, ...]
    """Cost through each block, by its first and last stop."""
    prefixes: tuple[FloatArray, ...]
    """Cost from each entry to each end of block 0, 1, ...; the last holds entry to exit."""

    @property
    def entries(self) -> IntArray:
        """The stops at which the visit can begin."""
        return self.blocks[0]

    @property
    def exits(self) -> IntArray:
        """The stops at which the visit can end."""
        return self.blocks[-1]

    @property
    def costs(self) -> FloatArray:
        """Cheapest cost from each entry to each exit, shape (entries, exits)."""
        return self.prefixes[-1]

    def order(self, cost: FloatArray, entry: int, end: int) -> list[int]:
        """The stops in order of the cheapest visit from position `entry` to position `end` of its blocks."""
        tail: list[int] = []
        for number in range(len(self.blocks) - 1, 0, -1):
            first, before = self._came_from(cost, number, entry, end)
            tail = [*self._block(cost, number, first, end), *tail]
            end = before
        return [*self._block(cost, 0, entry, end), *tail]

    def _came_from(self, cost: FloatArray, number: int, entry: int, end: int) -> tuple[int, int]:
        """Where block `number` was entered to reach its `end`, and where the block before it was left."""
        block, earlier = self.blocks[number], self.blocks[number - 1]
        inner = self.inner[number][:, end]
        link = cost[np.ix_(earlier, block)]
        total = self.prefixes[number - 1][entry][:, None] + link + inner[None, :]
        before, first = np.unravel_index(int(np.argmin(total)), total.shape)
        return int(first), int(before)

    def _block(self, cost: FloatArray, number: int, first: int, last: int) -> list[int]:
        block = self.blocks[number]
        return [int(stop) for stop in block[block_path(cost[np.ix_(block, block)], first, last)]]


def room_visit(blocks: Sequence[IntArray], cost: FloatArray, price: PriceBlock) -> RoomVisit:
    """The visit through these blocks in the order given; `price` costs the way through one block."""
    inner = tuple(price(cost[np.ix_(block, block)]) for block in blocks)
    # Priced from every entry to every end of each block, so that rooms can be joined at any of them.
    prefixes = [inner[0]]
    for (earlier, block), through in zip(pairwise(blocks), inner[1:], strict=True):
        onward = cheapest_sum(cost[np.ix_(earlier, block)], through)
        prefixes.append(cheapest_sum(prefixes[-1], onward))
    return RoomVisit(tuple(blocks), inner, tuple(prefixes))


def cheapest_sum(left: FloatArray, right: FloatArray) -> FloatArray:
    """For every pair of ends the cheapest way over any middle: min over m of left[a, m] + right[m, b]."""
    total: FloatArray = (left[:, :, None] + right[None, :, :]).min(axis=1)
    return total
