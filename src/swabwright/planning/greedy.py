"""Greedy choice: the best next sample, again and again, lazily or plainly, with one and the same outcome."""

from typing import Literal

import numpy as np
import numpy.typing as npt

from swabwright.planning.choose_draft import GRAIN, Draft
from swabwright.planning.choose_minutes import LEAST_MINUTES, marginal_minutes
from swabwright.planning.feasible import Limits

Array = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]
By = Literal["gain", "rate"]
"""By gain, or by gain per minute that the item would add."""


def lazy_greedy(draft: Draft, limits: Limits, by: By, among: Mask | None = None, most: int | None = None) -> Draft:
    """Add items to the draft while the limits can still be met; refreshes only gains that could be the best.

    A gain never rises as the draft grows, so a stale gain is an upper bound; per minute it is divided by the item's
    own minutes without charges, which only raises it. Minoux, Optimization Techniques 1978, 234-243.
    among: items that may be added, shape (Q,). most: items to add at most.
    """
    search = _Search(draft, limits, by, among)
    search.most = search.most if most is None else min(search.most, len(draft.items) + most)
    return search.run(lazily=True)


def plain_greedy(draft: Draft, limits: Limits, by: By, among: Mask | None = None) -> Draft:
    """The same choice with every gain refreshed at every step; slower, kept to check the lazy one."""
    return _Search(draft, limits, by, among).run(lazily=False)


class _Search:
    def __init__(self, draft: Draft, limits: Limits, by: By, among: Mask | None) -> None:
        self.draft, self.limits, self.by = draft, limits, by
        self.problem = limits.problem
        self.open: Mask = limits.open.copy() if among is None else limits.open & among
        for item in draft.items:
            self.open &= ~draft.closed_by(item)
        self.own_minutes = np.maximum(self.problem.minutes, LEAST_MINUTES)
        self.most = self.problem.count
        self.stale: Array = np.full(self.open.size, np.inf)

    def run(self, lazily: bool) -> Draft:
        if lazily:
            first = np.flatnonzero(self.open)
            self.stale[first] = self.draft.gains(first)
        while self.open.any() and len(self.draft.items) < self.most:
            self.rank = self._ranks_of_stale()
            self.fresh = np.zeros(self.open.size, dtype=bool)
            self.divisor = self._divisor()
            if not lazily:
                for item in np.flatnonzero(self.open):
                    self._refresh(int(item))
            if not self._take_best():
                break
        return self.draft

    def _divisor(self) -> Array:
        if self.by == "gain":
            return np.ones(self.open.size)
        return np.maximum(marginal_minutes(self.problem, self.draft.items), LEAST_MINUTES)

    def _ranks_of_stale(self) -> Array:
        above = self.stale + GRAIN
        return np.asarray(above / self.own_minutes if self.by == "rate" else above)

    def _refresh(self, item: int) -> None:
        self.stale[item] = self.draft.gain(item)
        self.rank[item] = self.stale[item] / self.divisor[item]
        self.fresh[item] = True

    def _take_best(self) -> bool:
        """Take the best item that leaves the limits within reach; False when nothing is worth taking."""
        self.open &= self.limits.fitting(self.draft.items)
        while self.open.any():
            item = self._best_fresh()
            if self._worth_taking(item) and self.limits.completion([*self.draft.items, item]) is not None:
                self._take(item)
                return True
            self.open[item] = False
        return False

    def _worth_taking(self, item: int) -> bool:
        return bool(self.stale[item] > 0.0 or self.limits.useful(self.draft.items)[item])

    def _best_fresh(self) -> int:
        while True:
            ranks = np.where(self.open, self.rank, -1.0)
            best = np.flatnonzero(ranks == ranks.max())
            stale = best[~self.fresh[best]]
            if stale.size == 0:
                return int(best[np.argmin(self.problem.tie[best])])
            self._refresh(int(stale[0]))

    def _take(self, item: int) -> None:
        self.draft.add(item)
        self.open &= ~self.draft.closed_by(item)
        self.stale[self.problem.site == self.problem.site[item]] = np.inf
