"""A first, fast bound: what is found already, and the gains of the best further samples as if they never overlapped."""

import numpy as np

from swabwright.planning.bound_limits import ROUNDING
from swabwright.planning.choose_draft import weighted_sum
from swabwright.planning.choose_finds import Finds, evaluate
from swabwright.planning.problem import Choice, Problem


def marginal_bound(problem: Problem, finds: Finds, choice: Choice) -> float:
    """F of the choice plus the largest `count` gains on top of it, at most one item a site; minutes do not count.

    Holds for any choice Q because F(Q) <= F(plan) + sum over Q of the gains on top of the plan.
    """
    rows = problem.weight.size
    left = problem.weight * (1.0 - evaluate(problem, choice.items))
    gains = np.array([weighted_sum(left, finds.chance[item, :rows]) for item in range(problem.tie.size)])
    gains[problem.never[problem.site] | np.isin(np.arange(gains.size), choice.items)] = 0.0
    if problem.mode is None:
        best = np.zeros(problem.must.size)
        np.maximum.at(best, problem.site, gains)
        gains = best
    return choice.found + float(np.sort(gains)[::-1][: problem.count].sum()) + ROUNDING
