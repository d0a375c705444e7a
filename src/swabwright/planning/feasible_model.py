"""The limits as a small integer program in which each limit can be left out or made to give way."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from ortools.sat.python import cp_model

from swabwright.planning.problem import Budget, Group, Problem

TICKS_A_MINUTE = 1000
MOST_EFFORT = 20.0
"""Effort of one search in the solver's own deterministic time, the same on every machine."""
Linear = cp_model.LinearExprT


@dataclass(frozen=True)
class Limit:
    """One limit as a person would say it; `room` is what the chosen items leave of it, at least 0 when it is kept."""

    name: str
    size: float
    """In its own unit, to compare how much of each limit would have to give way."""
    ticks: int
    """Whole-number steps of a unit."""
    room: Callable[["Model"], Linear]
    relief: Callable[[float], str]


@dataclass(frozen=True)
class Solved:
    """A set of items that keeps the limits asked for, and by how many units the one giving way gave."""

    items: tuple[int, ...]
    gave: float


class Model:
    """Variables: each item taken or not; rooms, machines and classes used follow from them."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.program = cp_model.CpModel()
        self.take = [self.program.new_bool_var("") for _ in problem.names]
        self._close_modes()
        self.site_taken = [self._any(np.flatnonzero(problem.site == site)) for site in range(problem.must.size)]
        self.minutes = self._minutes()

    def require(self, limit: Limit, switch: cp_model.IntVar | None = None, slack: Linear = 0) -> None:
        """Keep the limit, only where the switch is on if one is given, with some slack if it may give way."""
        constraint = self.program.add(cp_model.LinearExpr.sum([limit.room(self), slack]) >= 0)
        if switch is not None:
            constraint.only_enforce_if(switch)

    def _any(self, items: Sequence[int] | np.ndarray) -> cp_model.IntVar:
        used = self.program.new_bool_var("")
        self.program.add_max_equality(used, [self.take[int(item)] for item in items] or [self.program.new_constant(0)])
        return used

    def _close_modes(self) -> None:
        problem = self.problem
        for item in np.flatnonzero(problem.never[problem.site]):
            self.program.add(self.take[int(item)] == 0)
        for site in np.unique(problem.site):
            items = np.flatnonzero(problem.site == site)
            modes = items if problem.mode is None else problem.mode[items]
            used = [self._any(items[modes == mode]) for mode in np.unique(modes)]
            self.program.add_at_most_one(used)

    def _minutes(self) -> Linear:
        problem, charges = self.problem, self.problem.charges
        own = sum(_ticks(minutes) * take for minutes, take in zip(problem.minutes, self.take, strict=True))
        rooms = [self._any(np.flatnonzero(problem.room == room)) for room in np.unique(problem.room)]
        machines = sum(
            _ticks(minutes) * self._any(np.flatnonzero(problem.machine == machine))
            for machine, minutes in enumerate(charges.per_machine)
        )
        ranks = problem.hygiene_class
        classes = [self._any(np.flatnonzero(ranks == rank)) for rank in np.unique(ranks)]
        changes = self.program.new_int_var(0, len(classes), "")
        self.program.add(changes >= sum(classes) - 1)
        return own + _ticks(charges.per_room) * sum(rooms) + machines + _ticks(charges.per_class_change) * changes


def limits_of(problem: Problem) -> Iterator[Limit]:
    """Every limit of the problem that can be met or broken: count, minutes, budgets, minimums and musts."""
    yield Limit(
        f"the limit of {problem.count} samples",
        float(max(problem.count, 1)),
        1,
        lambda model: problem.count - sum(model.take),
        lambda amount: f"allow {_counted(amount, 'sample')} more",
    )
    if np.isfinite(problem.minutes_available):
        yield _minutes_limit(problem)
    for budget in problem.budgets:
        yield _budget_limit(budget)
    for group in problem.groups:
        yield _minimum_limit(group)
    for site in np.flatnonzero(problem.must):
        yield _must_limit(problem, int(site))


def solve(problem: Problem, limits: Sequence[Limit], giving: Limit | None = None) -> Solved | None:
    """A set of items that keeps these limits, `giving` giving way as little as it can; None when there is none."""
    model = Model(problem)
    slack: Linear = 0
    if giving is not None:
        slack = model.program.new_int_var(0, 10**9, "")
        model.program.minimize(slack)
    for limit in limits:
        model.require(limit, slack=slack if limit.name == (giving.name if giving else None) else 0)
    solver = quiet_solver()
    if solver.solve(model.program) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return None
    items = tuple(item for item, take in enumerate(model.take) if solver.value(take))
    return Solved(items, solver.value(slack) / giving.ticks if giving else 0.0)


def quiet_solver() -> cp_model.CpSolver:
    """A solver that gives the same answer on every machine."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 0
    solver.parameters.max_deterministic_time = MOST_EFFORT
    return solver


def _minutes_limit(problem: Problem) -> Limit:
    available = problem.minutes_available
    return Limit(
        f"the limit of {available:g} minutes",
        max(available, 1.0),
        TICKS_A_MINUTE,
        lambda model: _ticks(available) - model.minutes,
        lambda amount: f"allow {_counted(amount, 'minute')} more",
    )


def _budget_limit(budget: Budget) -> Limit:
    spends = [(int(item), _ticks(budget.minutes[item])) for item in np.flatnonzero(budget.minutes)]
    return Limit(
        f"the {_counted(budget.available, 'minute')} in which {budget.name} stands",
        max(budget.available, 1.0),
        TICKS_A_MINUTE,
        lambda model: _ticks(budget.available) - sum(ticks * model.take[item] for item, ticks in spends),
        lambda amount: f"agree {_counted(amount, 'minute')} more in which {budget.name} stands",
    )


def _minimum_limit(group: Group) -> Limit:
    return Limit(
        f"the minimum of {group.minimum} in {group.name}",
        float(max(group.minimum, 1)),
        1,
        lambda model: sum(model.site_taken[int(site)] for site in np.flatnonzero(group.sites)) - group.minimum,
        lambda amount: f"lower the minimum in {group.name} to {group.minimum - round(amount)}",
    )


def _must_limit(problem: Problem, site: int) -> Limit:
    name = site_name(problem, site)
    barred = ", which must also never be taken," if problem.never[site] else ""
    return Limit(
        f"site {name}{barred} that must be taken",
        1.0,
        1,
        lambda model: model.site_taken[site] - 1,
        lambda _amount: f"do not insist on site {name}",
    )


def site_name(problem: Problem, site: int) -> str:
    """The code of a site as it stands in its items' names."""
    items = np.flatnonzero(problem.site == site)
    return problem.names[int(items[0])].split(" ")[0] if items.size else f"number {site + 1} of the list"


def _ticks(minutes: float) -> int:
    return round(float(minutes) * TICKS_A_MINUTE)


def _counted(amount: float, word: str) -> str:
    return f"{amount:g} {word}" if amount == 1 else f"{amount:g} {word}s"
