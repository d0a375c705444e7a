"""Whether a set of samples keeps every limit, and whether it can still be completed to one that does."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from swabwright.planning.choose_minutes import marginal_minutes, minutes_of
from swabwright.planning.feasible_fill import Filler
from swabwright.planning.problem import Problem

Mask = npt.NDArray[np.bool_]
SLACK_MINUTES = 1e-9
"""Rounding allowed when minutes are added up."""


class Limits:
    """The limits of a problem: count, minutes, budgets, one mode a site, group minimums, must and never.

    witness: a known set that keeps every limit, used where a partial set has no obvious completion.
    """

    def __init__(self, problem: Problem, witness: Sequence[int] = ()) -> None:
        self.problem = problem
        self.witness = tuple(witness)
        self.groups = np.array([group.sites for group in problem.groups], dtype=bool).reshape(-1, problem.must.size)
        self.minimums = np.array([group.minimum for group in problem.groups], dtype=np.int64)
        self.open = ~problem.never[problem.site]
        spends = [budget.minutes for budget in problem.budgets]
        self.spends = np.array(spends, dtype=np.float64).reshape(len(spends), problem.tie.size)
        self.budgets = np.array([budget.available for budget in problem.budgets], dtype=np.float64) + SLACK_MINUTES
        self._filler = Filler(problem, self.open, self.groups, self.spends)

    def fits(self, items: Sequence[int]) -> bool:
        """Whether count, minutes and budgets suffice for the items."""
        within = minutes_of(self.problem, items) <= self.problem.minutes_available + SLACK_MINUTES
        return len(items) <= self.problem.count and within and not self.overspent(items).any()

    def overspent(self, items: Sequence[int]) -> Mask:
        """Which budgets the items exceed, shape (budgets,)."""
        return np.asarray(self.spends[:, list(items)].sum(axis=1) > self.budgets)

    def affordable(self, items: Sequence[int]) -> Mask:
        """Items that every budget still has minutes for on top of these, shape (Q,)."""
        left = self.budgets - self.spends[:, list(items)].sum(axis=1)
        return np.asarray((self.spends <= left[:, None]).all(axis=0))

    def fitting(self, items: Sequence[int]) -> Mask:
        """Items that count, minutes and budgets suffice for on top of these, shape (Q,); ever fewer as items grow."""
        left = self.problem.minutes_available + SLACK_MINUTES - minutes_of(self.problem, items)
        within = marginal_minutes(self.problem, items) <= left
        return np.asarray(within & self.affordable(items) & (len(items) < self.problem.count))

    def missing(self, items: Sequence[int]) -> tuple[npt.NDArray[np.int64], Mask]:
        """Sites still lacking in each group, and the must sites not taken."""
        taken = np.zeros(self.problem.must.size, dtype=bool)
        taken[self.problem.site[list(items)]] = True
        lacking = np.maximum(self.minimums - (self.groups & taken).sum(axis=1), 0)
        return lacking, self.problem.must & ~taken

    def kept(self, items: Sequence[int]) -> bool:
        """Whether the set keeps every limit as it stands."""
        lacking, must = self.missing(items)
        return self.fits(items) and not lacking.any() and not must.any()

    def useful(self, items: Sequence[int]) -> Mask:
        """Items that would serve a minimum or a must not met yet, shape (Q,)."""
        lacking, must = self.missing(items)
        return np.asarray((must | self.groups[lacking > 0].any(axis=0))[self.problem.site] & self.open)

    def completion(self, items: Sequence[int]) -> list[int] | None:
        """A set with these items that keeps every limit, or None when none is found."""
        if not self.fits(items):
            return None
        lacking, must = self.missing(items)
        left = self.budgets - self.spends[:, list(items)].sum(axis=1)
        cheapest = self._filler.cheapest(items, lacking, must, left)
        if cheapest is not None and self.fits(cheapest):
            return cheapest
        known = self._filler.from_list(items, lacking, must, self.witness)
        return known if self.kept(known) else None
