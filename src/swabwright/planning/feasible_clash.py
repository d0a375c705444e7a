"""Limits that no plan can keep: which of them clash, and the smallest change that helps."""

from collections.abc import Iterator, Sequence
from math import ceil

import numpy as np
from ortools.sat.python import cp_model

from swabwright.errors import LimitsClash
from swabwright.planning.feasible import SLACK_MINUTES, Limits
from swabwright.planning.feasible_model import Limit, Model, limits_of, quiet_solver, solve
from swabwright.planning.problem import Budget, Problem


def require_possible(problem: Problem) -> tuple[int, ...]:
    """A set of items that keeps every limit; raises LimitsClash naming the clash when there is none."""
    quick = Limits(problem).completion([])
    if quick is not None:
        return tuple(quick)
    found = solve(problem, list(limits_of(problem)))
    if found is None:
        raise LimitsClash(clash_sentence(problem))
    return found.items


def clash_sentence(problem: Problem) -> str:
    """Which limits clash, none of them idle, and the single change that gives way least, in one sentence."""
    overspent = _musts_overspend(problem)
    if overspent is not None:
        return overspent
    core = _smallest_core(problem)
    reliefs = sorted(_reliefs(problem, core), key=lambda pair: pair[1] / pair[0].size)
    verb = "cannot be met together" if len(core) > 1 else "cannot be met"
    if not reliefs:
        return f"{_listed(core)} {verb}; no single change of these is enough, so change more than one"
    limit, amount = reliefs[0]
    return f"{_listed(core)} {verb}; the smallest change that helps: {limit.relief(amount)}"


def _musts_overspend(problem: Problem) -> str | None:
    """The sentence for samples that must be in and need a line to stand for longer than it does."""
    for budget in problem.budgets:
        least = [_least(problem, budget, int(site)) for site in np.flatnonzero(problem.must & ~problem.never)]
        needing = [minutes for minutes in least if minutes > 0]
        if sum(needing) > budget.available + SLACK_MINUTES:
            count = len(needing)
            many = "sample that must be in needs" if count == 1 else f"{count} samples that must be in need"
            return (
                f"{budget.name} stands for {budget.available:.0f} minutes during the visit; the {many} "
                f"{sum(needing):.0f}; agree a stop {ceil(sum(needing) - budget.available)} minutes longer, "
                "or insist on less"
            )
    return None


def _least(problem: Problem, budget: Budget, site: int) -> float:
    """Minutes of a budget that a site takes at least, whichever item is chosen there."""
    minutes = budget.minutes[problem.site == site]
    return float(minutes.min()) if minutes.size else 0.0


def _listed(limits: Sequence[Limit]) -> str:
    names = [limit.name for limit in limits]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _smallest_core(problem: Problem) -> list[Limit]:
    core = _solver_core(problem)
    for limit in list(core):
        rest = [other for other in core if other is not limit]
        if rest and solve(problem, rest) is None:
            core = rest
    return core


def _solver_core(problem: Problem) -> list[Limit]:
    """Limits that suffice for the clash, as the solver's infeasible core names them."""
    limits = list(limits_of(problem))
    model = Model(problem)
    switches = [model.program.new_bool_var("") for _ in limits]
    for limit, switch in zip(limits, switches, strict=True):
        model.require(limit, switch)
    model.program.add_assumptions(switches)
    solver = quiet_solver()
    if solver.solve(model.program) != cp_model.INFEASIBLE:
        return limits
    named = set(solver.sufficient_assumptions_for_infeasibility())
    return [limit for limit, switch in zip(limits, switches, strict=True) if switch.index in named] or limits


def _reliefs(problem: Problem, core: Sequence[Limit]) -> Iterator[tuple[Limit, float]]:
    limits = list(limits_of(problem))
    for limit in core:
        solved = solve(problem, limits, limit)
        if solved is not None:
            yield limit, solved.gave
