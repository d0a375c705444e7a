"""Limits that no plan can keep: which of them clash, and the smallest change that helps."""

from collections.abc import Iterator, Sequence

from ortools.sat.python import cp_model

from swabwright.errors import LimitsClash
from swabwright.planning.feasible import Limits
from swabwright.planning.feasible_model import Limit, Model, limits_of, quiet_solver, solve
from swabwright.planning.problem import Problem


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
    core = _smallest_core(problem)
    reliefs = sorted(_reliefs(problem, core), key=lambda pair: pair[1] / pair[0].size)
    verb = "cannot be met together" if len(core) > 1 else "cannot be met"
    if not reliefs:
        return f"{_listed(core)} {verb}; no single change of these is enough, so change more than one"
    limit, amount = reliefs[0]
    return f"{_listed(core)} {verb}; the smallest change that helps: {limit.relief(amount)}"


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
