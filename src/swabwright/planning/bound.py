"""The certificate: no allowed choice finds more than this, under these assumptions."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt

from swabwright.planning.bound_limits import RelaxedLimits
from swabwright.planning.bound_marginal import marginal_bound
from swabwright.planning.bound_rounds import Rounds, Tightening
from swabwright.planning.choose import as_choice, choose, improve
from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import Finds, prepare
from swabwright.planning.choose_relaxed import rounded
from swabwright.planning.envelope import Master
from swabwright.planning.envelope_cuts import CutMaker
from swabwright.planning.feasible import Limits
from swabwright.planning.frank_wolfe import smooth_bound
from swabwright.planning.problem import Choice, Problem

Array = npt.NDArray[np.float64]
SMOOTH_ROUNDS = 5
WIDE_GAP = 0.01
WORTH_WHOLE = 0.01
"""Where minutes lower the bound by a smaller share than this, counting charges whole hardly lowers it further."""
CHEAP_ROUNDS = 4
TINY = 1e-12
WORTH_ANOTHER_LOOK = 1e-3
FEW_ITEMS = 64
"""A gap above one hundredth is searched exactly when no more items than this are left."""


@dataclass(frozen=True)
class Certificate:
    """Upper bound on the planning rows, and how far the choice can be from it, as shares of the bound.

    gap: with the minutes binding. gap_without_minutes: against the best choice if minutes did not count.
    """

    upper_bound: float
    gap: float
    gap_without_minutes: float
    how: str


def certify(problem: Problem, choice: Choice, finds: Finds | None = None) -> Certificate:
    """The bound for F_find, with the minutes and without, by the same budget of rounds on every machine.

    Items at sites with an earlier 'detected' stay as the choice has them: no bound is claimed for those sites.
    """
    return Prover(problem, choice, finds or prepare(problem)).certificate(choice)


def settle(problem: Problem, finds: Finds | None = None) -> tuple[Choice, Certificate]:
    """The choice and its certificate; where proving it met a better choice, that one."""
    finds = finds or prepare(problem)
    first = choose(problem, finds)
    prover = Prover(problem, first, finds)
    certificate = prover.certificate(first)
    if certificate.gap < WORTH_ANOTHER_LOOK:
        return first, certificate
    limits = Limits(problem)
    drafts = [Draft(finds, items) for items in prover.hints(limits)]
    improved = [improve(draft, limits) for draft in drafts]
    best = max((as_choice(draft, limits) for draft in improved), key=lambda choice: choice.found, default=first)
    if problem.hit_share > 0 or best.found <= first.found:
        return first, certificate
    return best, prover.certificate(best)


class Prover:
    """Bounds for one problem and choice; cuts made for one bound serve the others."""

    def __init__(self, problem: Problem, choice: Choice, finds: Finds) -> None:
        self.problem, self.choice, self.finds = problem, choice, finds
        self.maker = CutMaker(problem, finds.chance[:, : problem.weight.size])
        self.start = np.zeros(problem.tie.size)
        self.start[list(choice.items)] = 1.0
        self.points: list[Array] = []
        """Relaxed optimum, then the whole choices that an exact search met."""
        self.rounds = Rounds(self.maker, self.start, choice.found)

    def certificate(self, choice: Choice) -> Certificate:
        """How far this choice can be from the best; the bounds are computed once and hold for any choice."""
        within, words = self.within
        beyond = max(within, self.beyond)
        return Certificate(
            upper_bound=max(within, choice.found),
            gap=max(0.0, within - choice.found) / max(within, TINY),
            gap_without_minutes=max(0.0, beyond - choice.found) / max(beyond, TINY),
            how=words + self._exception(),
        )

    @cached_property
    def within(self) -> tuple[float, str]:
        """(upper bound with the minutes, how it was reached)."""
        return self._bound(minutes=True)

    @cached_property
    def beyond(self) -> float:
        """Upper bound if minutes did not count."""
        return self._bound(minutes=False)[0] if np.isfinite(self.problem.minutes_available) else self.within[0]

    def best_with(self, count: int) -> float:
        """No choice of so many samples finds more within the minutes, whatever minimums and musts it breaks.

        Cheap: the cuts made so far and a few more, without whole charges.
        """
        problem = replace(self.problem, count=count, groups=(), must=np.zeros_like(self.problem.must))
        work = Tightening(Master(problem, True, self._fixed()), self.rounds)
        return work.run(CHEAP_ROUNDS, prune=False)

    def hints(self, limits: Limits) -> Iterator[list[int]]:
        """Whole choices near the relaxed optimum that keep the limits, to start another search from."""
        for point in self.points:
            items = rounded(point, limits)
            if items is not None:
                yield items

    def _bound(self, minutes: bool) -> tuple[float, str]:
        marginal = marginal_bound(self.problem, self.finds, self.choice)
        work = Tightening(Master(self.problem, minutes, self._fixed()), self.rounds)
        work.run()
        limits = RelaxedLimits(self.problem, minutes, self._fixed())
        smooth = smooth_bound(self.maker, limits, work.point, (SMOOTH_ROUNDS, work.best))
        envelope = self._finish(work) if minutes else work.best
        ways = {
            "the gain of the next best samples": marginal,
            "cutting planes on the submodular envelope": envelope,
            "the smooth relaxation with its duality gap": smooth,
        }
        best = min(ways, key=lambda way: ways[way])
        return max(min(1.0, ways[best]), self.choice.found), best

    def _finish(self, work: Tightening) -> float:
        """Whole charges where minutes bind at all; whole items too where few are left and the gap is still wide."""
        self.points.append(work.point)
        finite = bool(np.isfinite(self.problem.minutes_available))
        bound = work.run_whole() if finite and self.beyond - work.best > WORTH_WHOLE * work.best else work.best
        if bound - self.choice.found > WIDE_GAP * bound and work.open.size <= FEW_ITEMS:
            self.points.extend(work.run_exact())
        return work.best

    def _exception(self) -> str:
        """The sentence part for sites that the bound does not cover."""
        count = len(self.problem.past.positive()) if self.problem.past else 0
        if not count:
            return ""
        return f"; samples at {count} site{'s' if count > 1 else ''} with an earlier 'detected' held as planned"

    def _fixed(self) -> list[tuple[int, float]]:
        positive = self.problem.past.positive() if self.problem.past else ()
        held = np.flatnonzero(np.isin(self.problem.site, positive))
        return [(int(item), float(self.start[item])) for item in held]
