"""What may be asked of a posterior, by history, and its answer with a range that holds in every other reading."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from swabwright.belief.estimate import Alternative, said
from swabwright.belief.spread_of import spread_of, why_uncertain
from swabwright.case.plan import Chance
from swabwright.inference.posterior import Posterior

Array = npt.NDArray[np.float64]
BEARING = ("results", "histories")
"""Every row is a whole history here, weighed by facts and results together."""


class Parts(NamedTuple):
    """A chance as weights by history, (E,): of what is asked, and of all among which it is asked."""

    part: Array
    whole: Array

    @property
    def value(self) -> float:
        """The chance; 0 where nothing is left to ask about."""
        whole = float(self.whole.sum())
        return float(np.clip(self.part.sum() / whole, 0.0, 1.0)) if whole > 0 else 0.0


Quantity = Callable[[Posterior], Parts]


@dataclass(frozen=True)
class Readings:
    """A posterior, the same results read otherwise, each in words, and what all of them rest on."""

    after: Posterior
    others: tuple[tuple[str, Posterior], ...]
    basis: str

    def told(self, asked: Quantity) -> Chance:
        """The chance with its range over structural copies, widened to every other reading."""
        others = [Alternative(words, asked(other).value) for words, other in self.others]
        return chance_of(asked(self.after), self.after, self.basis, others)


def chance_of(parts: Parts, after: Posterior, basis: str, others: Sequence[Alternative] = ()) -> Chance:
    """A chance with its range over the structural copies of a posterior; without weight it is none, and so said."""
    whole = float(parts.whole.sum())
    if not whole > 0:
        return Chance(value=0.0, low=0.0, high=1.0, basis=f"nothing to reckon it from; {basis}"[:400])
    safe = np.where(parts.whole > 0, parts.whole, 1.0)
    rows = replace(after.histories, weight=parts.whole / whole)
    spread = spread_of(np.clip(parts.part / safe, 0.0, 1.0), rows)
    return said(replace(spread, uncertain=why_uncertain(rows, BEARING)), basis, others)


def niche_at(source: int) -> Quantity:
    """That a niche is at a source, alone or with another."""
    return lambda after: Parts(_at(after, source), all_of(after))


def share_of(sources: Sequence[int]) -> Quantity:
    """Share of some sources: a pair counts half at each of its niches."""
    at = list(sources)
    return lambda after: Parts((after.single[:, at] + 0.5 * after.paired[:, at]).sum(axis=1), all_of(after))


def niche_within(sources: Sequence[int]) -> Quantity:
    """That at least one niche is at one of some sources.

    Pairs that lie wholly inside are known over all histories only; they are spread over the histories as all pairs
    that touch the sources are, so the chance is exact and its range nearly so.
    """
    at = list(sources)

    def asked(after: Posterior) -> Parts:
        touching = after.paired[:, at].sum(axis=1)
        inside, total = float(after.pairs[np.ix_(at, at)].sum()), float(touching.sum())
        once = 1.0 - inside / total if total > 0 else 1.0
        return Parts(after.single[:, at].sum(axis=1) + once * touching, all_of(after))

    return asked


def remains_without(source: int) -> Quantity:
    """That a niche remains if the one at a source is truly removed: all but 'the only niche is here'."""
    return lambda after: Parts(all_of(after) - after.single[:, source], all_of(after))


def another_beside(source: int) -> Quantity:
    """If a niche is at a source, that there is a second one."""
    return lambda after: Parts(after.paired[:, source], _at(after, source))


def two_niches(after: Posterior) -> Parts:
    """That there are two niches."""
    return Parts(0.5 * after.paired.sum(axis=1), all_of(after))


def all_of(after: Posterior) -> Array:
    """Weight of each history with all its hypotheses, (E,)."""
    return after.histories.weight * after.total


def _at(after: Posterior, source: int) -> Array:
    return np.asarray(after.single[:, source] + after.paired[:, source])
