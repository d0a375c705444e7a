"""Whether a set of samples keeps every limit, and whether it can still be completed to one that does."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from swabwright.planning.choose_minutes import marginal_minutes, minutes_of
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
        cheapest = self._cheapest(list(items))
        if cheapest is not None:
            return cheapest
        return self._from_witness(list(items))

    def _cheapest(self, items: list[int]) -> list[int] | None:
        done = list(items)
        while True:
            lacking, must = self.missing(done)
            if not lacking.any() and not must.any():
                return done if self.fits(done) else None
            item = self._next_needed(done, lacking, must)
            if item is None:
                return None
            done.append(item)

    def _next_needed(self, done: list[int], lacking: npt.NDArray[np.int64], must: Mask) -> int | None:
        taken = np.isin(self.problem.site, self.problem.site[done])
        takeable = self.open & self.affordable(done)
        serves = self.groups[lacking > 0].sum(axis=0)[self.problem.site] * takeable * ~taken
        if must.any():
            serves = serves * must[self.problem.site] + must[self.problem.site] * takeable
        if not serves.any():
            return None
        minutes = marginal_minutes(self.problem, done)
        order = np.lexsort((self.problem.tie, minutes, -serves))
        return int(order[0])

    def _from_witness(self, items: list[int]) -> list[int] | None:
        done = list(items)
        for item in self.witness:
            taken = np.isin(self.problem.site[item], self.problem.site[done])
            if not taken and self.useful(done)[item]:
                done.append(item)
        return done if self.kept(done) else None
