"""What is to be learned: which unordered set of niches is true, sets too rarely met taken together."""

from collections import defaultdict
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from swabwright.belief.rows import HypothesisRows

Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
SourceSet = tuple[int, ...]
REST = "rest"
ROUNDING = 1e-9
"""Equal weights add up to a whole number of effective rows, but for rounding."""


@dataclass(frozen=True)
class Labels:
    """The label of every row, and how many labels there are. of_row: (S,), 0 to count - 1."""

    of_row: IntArray
    count: int

    def bits(self, weight: Array) -> float:
        """How much is open: the entropy of the label, in bits."""
        share = np.bincount(self.of_row, weight, self.count)
        share = share[share > 0] / share.sum()
        return float(-(share * np.log2(share)).sum())


def merged(rows: HypothesisRows) -> HypothesisRows:
    """The same hypotheses, each once with the weight of all its repeats, in order of niches and history."""
    sets = np.sort(rows.sources, axis=1)[:, ::-1]
    whole = np.column_stack([sets, rows.history])
    kept, first, place = np.unique(whole, axis=0, return_index=True, return_inverse=True)
    weight = np.bincount(place.reshape(-1), rows.weight, len(kept))
    return HypothesisRows(rows.history[first], rows.sources[first], weight / weight.sum(), rows.copy[first])


def labels_of(rows: HypothesisRows, room_of: Sequence[Hashable], least: float) -> Labels:
    """Labels of rows with at least `least` effective rows each; smaller sets go together by room, then all together.

    room_of: of each source, whatever holds it (a room, or the source itself for what is in no room).
    """
    sets = [tuple(sorted(int(one) for one in row if one >= 0)) for row in rows.sources]

    def by_rooms(niches: SourceSet) -> Hashable:
        return tuple(sorted({str(room_of[one]) for one in niches}))

    named = _pooled(sets, sets, rows.weight, least, by_rooms)
    named = _pooled(sets, named, rows.weight, least, lambda _: REST)
    order = {name: place for place, name in enumerate(sorted(set(named), key=repr))}
    return Labels(np.array([order[name] for name in named], np.int64), len(order))


def _pooled(
    sets: Sequence[SourceSet],
    names: Sequence[Hashable],
    weight: Array,
    least: float,
    wider: Callable[[SourceSet], Hashable],
) -> list[Hashable]:
    """The names, those with too few effective rows exchanged for a wider name."""
    rows: dict[Hashable, list[float]] = defaultdict(list)
    for name, one in zip(names, weight, strict=True):
        rows[name].append(float(one))
    few = least * (1.0 - ROUNDING)
    enough = {name for name, own in rows.items() if sum(own) ** 2 >= few * sum(one * one for one in own)}
    return [name if name in enough else wider(niches) for niches, name in zip(sets, names, strict=True)]
