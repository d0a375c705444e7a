"""What may have become of every niche after actions: left as it was, reduced and growing again, or gone."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from swabwright.belief.rows import HypothesisRows

Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int32]


class Fate(NamedTuple):
    """One thing that may have become of a niche: in which bank it is read, its chance, and whether it is gone."""

    bank: int
    chance: float
    gone: bool


UNTREATED = (Fate(bank=0, chance=1.0, gone=False),)
"""A niche that nothing was done about: it is read in the first bank, where every niche is left."""
ABSENT = (Fate(bank=0, chance=1.0, gone=True),)
"""No niche: nothing is left of it, and no bank reads it."""


@dataclass(frozen=True)
class States:
    """Hypotheses split by what became of each niche; S states of fewer hypotheses.

    rows: one a state, weighted. of: (S,) the hypothesis that each was split from. bank: (S, 3) where each niche is
    read. remains: (S, 3) whether a niche is there and not gone.
    """

    rows: HypothesisRows
    of: IntArray
    bank: IntArray
    remains: npt.NDArray[np.bool_]

    @property
    def gone(self) -> npt.NDArray[np.bool_]:
        """Whether no niche remains, shape (S,)."""
        return np.asarray(~self.remains.any(axis=1))

    def __len__(self) -> int:
        return len(self.rows)

    def weighed(self, weight: Array) -> "States":
        """The same states with other weights, made to sum to 1."""
        return replace(self, rows=replace(self.rows, weight=weight / weight.sum()))

    def some(self, places: npt.NDArray[np.int64]) -> "States":
        """Some of the states, in any order and as often as named; weights are made to sum to 1 again."""
        rows = self.rows
        few = HypothesisRows(rows.history[places], rows.sources[places], rows.weight[places], rows.copy[places])
        return States(few, self.of[places], self.bank[places], self.remains[places]).weighed(few.weight)


def split(rows: HypothesisRows, fates: Sequence[Sequence[Fate]]) -> States:
    """Every hypothesis split into the states of its niches, each niche by itself; fates by source.

    A state has the weight of its hypothesis times the chance of each fate; states without a chance are left out.
    """
    most = max(len(one) for one in fates)
    # an absent niche has index -1 and so reads the last line
    table = [[*one, *[Fate(0, 0.0, gone=False)] * (most - len(one))] for one in (*fates, ABSENT)]
    bank, chance, gone = (np.array([[fate[part] for fate in line] for line in table]) for part in range(3))
    parts = []
    for way in product(range(most), repeat=rows.sources.shape[1]):
        at = (rows.sources, np.array(way)[None, :])
        weight = rows.weight * chance[at].prod(axis=1)
        kept = np.flatnonzero(weight > 0)
        parts.append((kept, weight[kept], bank[at][kept], ~gone[at][kept]))
    of, weight, banks, remains = (np.concatenate([part[place] for part in parts]) for place in range(4))
    split_rows = HypothesisRows(rows.history[of], rows.sources[of], weight, rows.copy[of])
    return States(split_rows, of.astype(np.int32), banks.astype(np.int32), remains.astype(np.bool_)).weighed(weight)
