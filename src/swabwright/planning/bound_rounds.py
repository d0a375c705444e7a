"""Rounds of cuts: solve the master, cut between its answer and the best inner point, leave out the hopeless."""

from collections.abc import Iterator

import numpy as np
import numpy.typing as npt

from swabwright.planning.bound_limits import ROUNDING
from swabwright.planning.envelope import Master
from swabwright.planning.envelope_cuts import Cut, CutMaker

Array = npt.NDArray[np.float64]
MOST_ROUNDS = 24
"""Cutting rounds of one bound: a budget in rounds, never in seconds, so that a bound can be computed again."""
CLOSE_ENOUGH = 1e-4
PATIENCE = 4
HARDLY_CLOSER = 0.03
"""A fall by less than this share of the gap, over the rounds of PATIENCE, is no progress."""
MOST_NODES = 30
"""Search nodes of each solve with whole charges."""
WHOLE_ROUNDS = 2
EXACT_ROUNDS = 12
FEWEST_LEFT_OUT = 8
"""Items are left out in batches: each batch ends the general use of later cuts."""


class Rounds:
    """The cuts made so far that hold for every choice, and the maker of more.

    start: the choice as an x in [0, 1]^Q, the first inner point. found: what it finds.
    """

    def __init__(self, maker: CutMaker, start: Array, found: float) -> None:
        self.maker, self.start, self.found = maker, start, found
        self.cuts: list[Cut] = [maker.cut_at(np.zeros_like(start)), maker.cut_at(start)]


class Tightening:
    """One bound in the making: a master, the items still worth looking at, the least bound so far."""

    def __init__(self, master: Master, rounds: Rounds) -> None:
        self.master, self.rounds = master, rounds
        self.open = rounds.maker.open_items
        for cut in rounds.cuts:
            master.add(cut)
        self.best, self.point = master.bound()

    def run(self, most: int = MOST_ROUNDS, prune: bool = True) -> float:
        """The bound after at most so many rounds; prune: leave out items that no better choice can hold.

        In-out separation (Ben-Ameur and Neto, Networks 2007;49:3): cuts half-way to the best inner point converge
        in few rounds. Stops early when the bound meets the choice or has stopped falling.
        """
        inner, history = self.rounds.start, [self.best]
        for _ in range(most):
            middle = 0.5 * (self.point + inner)
            if self._cut(middle) < self.best:
                inner = middle
            if prune:
                self._leave_out_hopeless()
            history.append(self.best)
            progress = max(CLOSE_ENOUGH, HARDLY_CLOSER * (self.best - self.rounds.found))
            stuck = len(history) > PATIENCE and history[-PATIENCE - 1] - self.best < progress
            if stuck or (prune and self.met):
                break
        return self.best

    @property
    def met(self) -> bool:
        """Whether bound and choice are the same for all that matters."""
        return self.best - self.rounds.found < CLOSE_ENOUGH * self.best

    def run_whole(self) -> float:
        """The bound with whole charges, by the solver's dual bound."""
        if not self.met and self.master.breaks_whole_charges(self.point):
            self.master.drop_idle_cuts()
            self.master.use_whole_charges(MOST_NODES)
            self._solve_whole(WHOLE_ROUNDS)
        return self.best

    def run_exact(self) -> Iterator[Array]:
        """A small search with whole items among those still open; yields each whole choice it meets, as an x."""
        self.master.drop_idle_cuts()
        self.master.use_whole_charges(MOST_NODES, self.open.tolist())
        for _ in range(EXACT_ROUNDS):
            self._solve_whole(1)
            yield self.point
            if self.met:
                return

    def _solve_whole(self, most: int) -> None:
        for _ in range(most):
            bound, self.point = self.master.bound()
            self.best = min(self.best, bound)
            if self.met:
                return
            self.master.add(self.rounds.maker.cut_at(self.point, self.open))

    def _cut(self, middle: Array) -> float:
        """Cut at a point, solve again; the cut's value at the point."""
        cut = self.rounds.maker.cut_at(middle, self.open)
        if self.open.size == self.rounds.maker.open_items.size:
            self.rounds.cuts.append(cut)
        self.master.add(cut)
        bound, self.point = self.master.bound()
        self.best = min(self.best, bound)
        return cut.at(middle)

    def _leave_out_hopeless(self) -> None:
        """Leave out items that no choice better than the one at hand can hold, by their reduced cost."""
        bound, _point = self.master.bound()
        costs = self.master.reduced_costs()
        unused = self.open[self.point[self.open] <= 0.0]
        hopeless = unused[bound + np.minimum(costs[unused], 0.0) < self.rounds.found - ROUNDING]
        if hopeless.size > FEWEST_LEFT_OUT:
            self.master.leave_out(hopeless)
            self.open = np.setdiff1d(self.open, hopeless)
