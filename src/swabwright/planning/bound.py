"""The certificate: no allowed choice finds more than this, under these assumptions."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from swabwright.planning.bound_limits import RelaxedLimits
from swabwright.planning.bound_marginal import marginal_bound
from swabwright.planning.bound_rounds import Rounds, Tightening
from swabwright.planning.choose_finds import Finds, prepare
from swabwright.planning.envelope import Master
from swabwright.planning.envelope_cuts import CutMaker
from swabwright.planning.frank_wolfe import smooth_bound
from swabwright.planning.problem import Choice, Problem

Array = npt.NDArray[np.float64]
SMOOTH_ROUNDS = 8


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
    prover = Prover(problem, choice, finds or prepare(problem))
    within, words = prover.bound(minutes=True)
    beyond, _words = prover.bound(minutes=False)
    beyond = max(within, beyond)
    return Certificate(
        upper_bound=within,
        gap=(within - choice.found) / within if within > 0 else 0.0,
        gap_without_minutes=(beyond - choice.found) / beyond if beyond > 0 else 0.0,
        how=words + prover.exception(),
    )


class Prover:
    """Bounds for one problem and choice; cuts made for one bound serve the others."""

    def __init__(self, problem: Problem, choice: Choice, finds: Finds) -> None:
        self.problem, self.choice, self.finds = problem, choice, finds
        self.maker = CutMaker(problem, finds.chance[:, : problem.weight.size])
        self.start = np.zeros(problem.tie.size)
        self.start[list(choice.items)] = 1.0
        self.rounds = Rounds(self.maker, self.start, choice.found)

    def bound(self, minutes: bool) -> tuple[float, str]:
        """(upper bound, how it was reached)."""
        marginal = marginal_bound(self.problem, self.finds, self.choice)
        work = Tightening(Master(self.problem, minutes, self._fixed()), self.rounds)
        work.run()
        limits = RelaxedLimits(self.problem, minutes, self._fixed())
        smooth = smooth_bound(self.maker, limits, work.point, SMOOTH_ROUNDS)
        envelope = work.run_whole() if minutes else work.best
        ways = {
            "the gain of the next best samples": marginal,
            "cutting planes on the submodular envelope": envelope,
            "the smooth relaxation with its duality gap": smooth,
        }
        best = min(ways, key=lambda way: ways[way])
        return max(min(1.0, ways[best]), self.choice.found), best

    def exception(self) -> str:
        """The sentence part for sites that the bound does not cover."""
        count = len(self.problem.past.positive()) if self.problem.past else 0
        if not count:
            return ""
        return f"; samples at {count} site{'s' if count > 1 else ''} with an earlier 'detected' held as planned"

    def _fixed(self) -> list[tuple[int, float]]:
        positive = self.problem.past.positive() if self.problem.past else ()
        held = np.flatnonzero(np.isin(self.problem.site, positive))
        return [(int(item), float(self.start[item])) for item in held]
