"""What is to be learned: which unordered set of niches is true, sets too rarely met taken together."""

from collections import defaultdict
from collections.abc import Hashable, Mapping, Sequence
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


def marginals(rows: HypothesisRows, sources: int) -> Array:
    """Weight of all rows in which a source is a niche, shape (sources,)."""
    weight = np.broadcast_to(rows.weight[:, None], rows.sources.shape)
    real = rows.sources >= 0
    return np.asarray(np.bincount(rows.sources[real], weight[real], sources))


def labels_of(
    rows: HypothesisRows, room_of: Sequence[Hashable], least: float, machine_of: Sequence[Hashable] | None = None
) -> Labels:
    """Labels of rows with at least `least` effective rows each; smaller sets go together by what they share.

    First all that have the same leading niche (of the niches of a set the one that is likeliest in all), then by its
    machine, then by its room, then all together. A set of a likely niche and some other is so told apart from the sets
    without that niche, however seldom each of them is met.
    room_of, machine_of: of each source, whatever holds it (the source itself for what is in none).
    """
    sets = [tuple(sorted(int(one) for one in row if one >= 0)) for row in rows.sources]
    likely = marginals(rows, len(room_of))
    leading = {niches: max(niches, key=lambda one: (likely[one], -one)) for niches in set(sets)}
    named: list[Hashable] = list(sets)
    ladder = (range(len(room_of)), machine_of or room_of, room_of, [REST] * len(room_of))
    for step, held in enumerate(ladder):
        wider = {niches: (step, str(held[one])) for niches, one in leading.items()}
        named = _pooled(sets, named, rows.weight, least, wider)
    order = {name: place for place, name in enumerate(sorted(set(named), key=repr))}
    return Labels(np.array([order[name] for name in named], np.int64), len(order))


def _pooled(
    sets: Sequence[SourceSet],
    names: Sequence[Hashable],
    weight: Array,
    least: float,
    wider: Mapping[SourceSet, Hashable],
) -> list[Hashable]:
    """The names, those with too few effective rows exchanged for a wider name."""
    rows: dict[Hashable, list[float]] = defaultdict(list)
    for name, one in zip(names, weight, strict=True):
        rows[name].append(float(one))
    few = least * (1.0 - ROUNDING)
    enough = {name for name, own in rows.items() if sum(own) ** 2 >= few * sum(one * one for one in own)}
    return [name if name in enough else wider[niches] for niches, name in zip(sets, names, strict=True)]
