"""The samples that are expected to say most about where it lives: greedy mutual information, held against chance."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from swabwright.inference.information_kernels import all_bits, bits_on_paths, entropies, label_mass
from swabwright.inference.outcome_paths import Foreseen, Paths
from swabwright.plant.figures import Figures

Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
May = Callable[[Sequence[int]], bool]
"""Whether these items can be part of a visit that keeps every limit."""
GRAIN = 2.0**-30
"""Bits are whole multiples of this, so that equal gains are equal whatever was added up first."""


class Settings(NamedTuple):
    """How carefully gains are weighed: paths of outcomes, shuffles of labels, errors that a gain must exceed."""

    paths: int
    shuffles: int
    errors: float


@dataclass(frozen=True)
class Bits:
    """Bits about the label: more than labels without meaning would show, and the error of that."""

    value: float
    error: float


class Picked(NamedTuple):
    """An item, and what it says after those before it."""

    item: int
    bits: Bits


def settings_of(figures: Figures) -> Settings:
    """The settings of a case."""
    return Settings(
        round(figures.number("next.paths")), round(figures.number("next.shuffles")), figures.number("next.errors")
    )


class Walked(NamedTuple):
    """Weights of rows on paths, (J, S), with what each label has of them, (J, labels)."""

    weights: Array
    mass: Array


class Mixed:
    """Weights of rows on paths, and the same with labels that mean nothing, made when they are first asked for."""

    def __init__(self, weights: Array, starts: IntArray, shuffles: Sequence[IntArray]) -> None:
        self.weights, self._starts, self._shuffles = weights, starts, shuffles

    @cached_property
    def plain(self) -> Walked:
        """The weights as they are."""
        return Walked(self.weights, label_mass(self.weights, self._starts))

    @cached_property
    def shuffled(self) -> tuple[Walked, ...]:
        """The weights in other orders of the rows."""
        mixed = (np.take(self.weights, order, axis=1) for order in self._shuffles)
        return tuple(Walked(one, label_mass(one, self._starts)) for one in mixed)


class Informed:
    """Weighs items by what they would say of the label; made once for a set of hypotheses and items."""

    def __init__(self, what: Foreseen, settings: Settings) -> None:
        self.what, self._settings = what, settings
        self.paths = Paths(what, settings.paths)
        self._shuffles = what.shuffles(settings.shuffles)

    def gains(self, weights: Array, open_items: npt.NDArray[np.bool_]) -> Array:
        """Mean bits of every open item on the paths, before labels without meaning are held against it, (Q,)."""
        out = np.zeros(len(self.what.tie))
        all_bits(
            self.what.chance,
            open_items,
            entropies(),
            (weights, label_mass(weights, self.what.starts), self.what.starts),
            out,
        )
        return np.asarray(np.round(out / GRAIN) * GRAIN)

    def bits(self, at: Mixed, item: int) -> Bits:
        """What an item says beyond labels without meaning; the error is the spread of those."""
        chance = self.what.chance[item]
        null = np.array(
            [self._mean(one, chance[order]) for one, order in zip(at.shuffled, self._shuffles, strict=True)]
        )
        count = len(null)
        # one gain is held against the mean of a few: its own scatter, and that of the mean
        error = float(null.std(ddof=1) * np.sqrt(1.0 + 1.0 / count)) if count > 1 else 0.0
        return Bits(self._mean(at.plain, chance) - float(null.mean()), error)

    def at(self, weights: Array) -> Mixed:
        """Weights as they are and in every order that labels without meaning give."""
        return Mixed(weights, self.what.starts, self._shuffles)

    def after(self, items: Sequence[int]) -> Mixed:
        """Weights once these items are reported."""
        return self.at(self.paths.after(items))

    def _mean(self, walked: Walked, chance: npt.NDArray[np.float32]) -> float:
        out = np.empty(len(walked.weights))
        bits_on_paths(chance, entropies(), (*walked, self.what.starts), out)
        return float(np.round(out.mean() / GRAIN) * GRAIN)

    def best(self, taken: Sequence[int], may: May, at: Mixed, above: float = 0.0) -> Picked | None:
        """The item that says most, of those whose bits stand out and that may be added; None when there is none.

        at: the weights after the items taken. above: bits that it must say at least, to be looked at.
        """
        open_items = ~np.isin(self.what.site, self.what.site[list(taken)])
        gains = self.gains(at.weights, open_items)
        order = np.lexsort((self.what.tie, -gains))
        best: Picked | None = None
        for item in order[open_items[order]].tolist():
            # labels without meaning never show less than nothing, so no later item can say more
            least = above if best is None else best.bits.value
            if gains[item] <= least:
                break
            bits = self.bits(at, item)
            if bits.value > least and self._stands_out(bits) and may([*taken, item]):
                best = Picked(item, bits)
        return best

    def _stands_out(self, bits: Bits) -> bool:
        return bits.value > self._settings.errors * bits.error + GRAIN

    def chain(self, items: Sequence[int]) -> list[Picked]:
        """What each of the items says after those before it."""
        weights, said = self.paths.after(()), []
        for item in items:
            said.append(Picked(item, self.bits(self.at(weights), item)))
            weights = self.paths.further(weights, item)
        return said


def choose_informative(informed: Informed, first: Sequence[int], count: int, may: May) -> list[Picked]:
    """Up to `count` items, greedy by bits, those of `first` before all; then one pass of exchanges.

    Fewer when nothing further stands out from labels without meaning. No guarantee: what two samples say together
    can be more than the sum of both.
    """
    said, weights = informed.chain(first), informed.paths.after(first)
    while len(said) < count:
        found = informed.best([one.item for one in said], may, informed.at(weights))
        if found is None:
            break
        said.append(found)
        weights = informed.paths.further(weights, found.item)
    greedy = [one.item for one in said]
    kept = _exchanged(informed, len(first), greedy, may)
    return said if kept == greedy else informed.chain(kept)


def _exchanged(informed: Informed, fixed: int, taken: list[int], may: May) -> list[int]:
    """The items after one look at each: another in its stead where that says more, given all the others."""
    kept = list(taken)
    for place in range(fixed, len(kept)):
        others = [*kept[:place], *kept[place + 1 :]]
        at = informed.after(others)
        own = informed.bits(at, kept[place])
        found = informed.best(others, may, at, above=own.value + own.error)
        if found is not None:
            kept[place] = found.item
    return kept
