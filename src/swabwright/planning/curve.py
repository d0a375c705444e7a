"""What each further sample buys, and the best that any choice of so many could do."""

from dataclasses import dataclass, replace

import numpy as np

from swabwright.planning.bound import Prover
from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import Finds, evaluate, prefix_finds
from swabwright.planning.feasible import Limits
from swabwright.planning.greedy import lazy_greedy
from swabwright.planning.problem import Choice, Problem

EVERY = 10
"""The best any choice could do is computed for every so many samples, and for the whole choice."""


@dataclass(frozen=True)
class Step:
    """The chance of finding with the first so many samples on the planning rows; best_any_plan where computed."""

    samples: int
    found: float
    best_any_plan: float | None


def curve(prover: Prover, choice: Choice) -> tuple[Step, ...]:
    """One step for each sample of the choice, in its order."""
    finds = prefix_finds(prover.problem, choice.items)
    found = [float(prover.problem.weight @ rows) for rows in finds]
    return tuple(
        Step(samples, chance, _best_any(prover, choice, samples)) for samples, chance in enumerate(found, start=1)
    )


def found_with_more(finds: Finds, problem: Problem, choice: Choice, more: int = EVERY) -> float:
    """F_find with so many more samples on top of the choice, minutes not counted: what they would buy."""
    roomy = replace(problem, count=len(choice.items) + more, minutes_available=np.inf)
    grown = lazy_greedy(Draft(finds, choice.items), Limits(roomy), "gain")
    return float(problem.weight @ evaluate(problem, grown.items))


def _best_any(prover: Prover, choice: Choice, samples: int) -> float | None:
    if samples == len(choice.items):
        return max(prover.within[0], choice.found)
    return prover.best_with(samples) if samples % EVERY == 0 else None
