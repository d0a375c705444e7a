"""Where the facts point: hypotheses that explain them, with the exact density with which they are proposed.

Facts can be so telling that few of the rows drawn by the prior explain them. Single niches are therefore tried in every
history, and for several niches every way of sharing the telling facts out between them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product

import numpy as np
import numpy.typing as npt

from swabwright.belief.known import Fact
from swabwright.belief.prior import Prior
from swabwright.compute.draws import uniforms
from swabwright.compute.keys import counters, key_hash
from swabwright.compute.philox import philox_words

Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int32]
MOST_SHARED = 3
"""Telling facts that are shared out between niches: niches to this power ways."""


@dataclass(frozen=True)
class Focus:
    """How well a niche at each source explains each group of telling facts, in each history.

    fits: (groups, E, sources) prior weight x silent facts x the telling facts of the group, sources in canonical
    order; fact f belongs to the groups whose number has bit f set. order: the source at each canonical place.
    """

    fits: Array
    order: IntArray
    facts: int

    def sharings(self, niches: int) -> list[tuple[int, ...]]:
        """Every way of sharing the telling facts out between so many niches: the group of each niche."""
        takers = product(range(niches), repeat=self.facts)
        return [
            tuple(sum(1 << fact for fact, taker in enumerate(way) if taker == niche) for niche in range(niches))
            for way in takers
        ]

    @cached_property
    def sums(self) -> Array:
        """Sum of the fits over sources, shape (groups, E)."""
        return np.asarray(self.fits.sum(axis=2))

    def table(self, niches: int) -> Array:
        """Weight of each way of sharing in each history, niches at one source not yet left out; (ways, E)."""
        return np.stack([self.sums[list(way)].prod(axis=0) for way in self.sharings(niches)])

    def total(self, niches: int) -> float:
        """Total weight of all sets of niches at different sources, by which a density is divided."""
        return float(self.table(niches).sum() - sum(self._together(way) for way in self.sharings(niches)))

    def _together(self, way: tuple[int, ...]) -> float:
        """Weight of the sets of one way in which some niches share a source, by inclusion and exclusion."""
        if len(way) == 1:
            return 0.0
        if len(way) == 2:
            return float((self.fits[way[0]] * self.fits[way[1]]).sum())
        pairs = ((0, 1, 2), (0, 2, 1), (1, 2, 0))
        same = sum(((self.fits[way[i]] * self.fits[way[j]]).sum(axis=1) * self.sums[way[k]]).sum() for i, j, k in pairs)
        return float(same) - 2.0 * float(self.fits[list(way)].prod(axis=0).sum())

    def density(self, history: IntArray, sources: IntArray, niches: int) -> Array:
        """Chance with which each row (ordered sources in the first `niches` columns) is proposed, shape (S,)."""
        place = np.argsort(self.order)[sources[:, :niches]]
        chance = np.zeros(len(history))
        for way in self.sharings(niches):
            chance += np.prod([self.fits[group, history, place[:, at]] for at, group in enumerate(way)], axis=0)
        return chance / self.total(niches)


def focus_of(facts: Sequence[Fact], prior: Prior, histories: int) -> Focus:
    """The focus of facts that were read on every (history, source) pair, history by history."""
    shape = (histories, len(prior.source_names))
    order = np.array(sorted(range(shape[1]), key=lambda place: prior.source_names[place]), np.int32)
    telling = [fact.factor.reshape(shape)[:, order] for fact in facts if fact.asks_for_contamination]
    # the most telling ones: those that an average niche explains least; the others stay to the weights alone
    shared = sorted(telling, key=lambda factor: float(factor.mean() / factor.max()))[:MOST_SHARED]
    quiet = [fact.factor.reshape(shape)[:, order] for fact in facts if not fact.asks_for_contamination]
    base = np.broadcast_to(prior.weight[order], shape) * (np.prod(quiet, axis=0) if quiet else 1.0)
    groups = [[factor for bit, factor in enumerate(shared) if group >> bit & 1] for group in range(2 ** len(shared))]
    return Focus(np.stack([np.prod([base, *group], axis=0) for group in groups]), order, len(shared))


def focused_sets(focus: Focus, niches: int, count: int, key: tuple[int, int]) -> tuple[IntArray, IntArray]:
    """Histories (S,) and ordered sources (S, 3) of about `count` rows proposed by the focus; repeatable by key."""
    draws = _draws(niches, count, key)
    table = focus.table(niches)
    way, history = np.unravel_index(_systematic(table.ravel(), draws[0]), table.shape)
    groups = np.array(focus.sharings(niches))[way]
    places = np.stack([_pick(focus.fits[groups[:, at], history], draws[1 + at]) for at in range(niches)], axis=1)
    sources = np.full((count, 3), -1, np.int32)
    sources[:, :niches] = focus.order[places]
    # two niches at one source are one niche; the density leaves such sets out as well
    ordered = np.sort(places, axis=1)
    different = (np.diff(ordered, axis=1) > 0).all(axis=1)
    return history[different].astype(np.int32), sources[different]


def _systematic(weight: Array, draws: Array) -> npt.NDArray[np.intp]:
    cumulated = np.cumsum(weight)
    points = (np.arange(len(draws)) + draws[0]) / len(draws) * cumulated[-1]
    return np.asarray(np.searchsorted(cumulated, points, side="right").clip(0, len(weight) - 1))


def _pick(weight: Array, draws: Array) -> npt.NDArray[np.intp]:
    """One canonical place a row, by its weights (S, sources)."""
    cumulated = np.cumsum(weight, axis=1)
    place = (cumulated <= draws[:, None] * cumulated[:, -1:]).sum(axis=1)
    return np.asarray(np.minimum(place, weight.shape[1] - 1))


def _draws(niches: int, count: int, key: tuple[int, int]) -> Array:
    """Four uniform draws a row, shape (4, count)."""
    hashed = np.array([key_hash(f"focus {niches}")], np.uint64)
    return uniforms(philox_words(counters(hashed, np.arange(count, dtype=np.uint64), 0), key)).T
