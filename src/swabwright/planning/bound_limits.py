"""The limits of a problem as a linear program: items taken in part, charges as columns."""

from collections.abc import Iterable

import highspy
import numpy as np
import numpy.typing as npt

from swabwright.planning.choose_minutes import minutes_of
from swabwright.planning.problem import Problem

Array = npt.NDArray[np.float64]
ROUNDING = 1e-6
"""Added to every bound: single-precision chances and the solver's tolerances stay below it."""


class RelaxedLimits:
    """Columns: each item between 0 and 1, rooms, machines and classes used, changes of class.

    No travel is counted, so every allowed choice is a point of it. minutes: whether the minutes count. fixed: items
    held at a value. The charges are between 0 and 1, or 0 or 1 once `use_whole_charges` is called.
    """

    def __init__(self, problem: Problem, minutes: bool, fixed: Iterable[tuple[int, float]] = ()) -> None:
        self.problem = problem
        self.items = problem.tie.size
        self.solver = _quiet_solver()
        open_items = ~problem.never[problem.site]
        for item in range(self.items):
            self.solver.addVar(0.0, 1.0 if open_items[item] else 0.0)
        for item, value in fixed:
            self.solver.changeColBounds(item, value, value)
        self.charge_columns: list[int] = []
        self._choice_rows()
        if minutes and np.isfinite(problem.minutes_available):
            self._minute_rows()
        self.whole = False

    def leave_out(self, items: npt.NDArray[np.int64]) -> None:
        """Take these items out of the choice."""
        for item in items:
            self.solver.changeColBounds(int(item), 0.0, 0.0)

    def set_count(self, count: int) -> None:
        """Allow another number of samples."""
        self.solver.changeRowBounds(self.count_row, -highspy.kHighsInf, float(count))

    def maximise(self, worth: Array) -> tuple[float, Array]:
        """(the most that worth . x can be, an x that reaches it, shape (Q,))."""
        self.solver.changeColsCost(self.items, np.arange(self.items, dtype=np.int32), worth)
        self.solver.changeObjectiveSense(highspy.ObjSense.kMaximize)
        return self.solve()

    def solve(self) -> tuple[float, Array]:
        """(upper bound of the objective, the x that reaches or nearly reaches it, shape (Q,)).

        With whole charges the bound is the solver's dual bound, valid wherever its search stops.
        """
        self.solver.run()
        info = self.solver.getInfo()
        bound = info.mip_dual_bound if self.whole else info.objective_function_value
        solution = self.solver.getSolution()
        solved = self.solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
        if not (solved or self.whole) or not np.isfinite(bound) or len(solution.col_value) == 0:
            return np.inf, np.zeros(self.items)
        return float(bound), np.clip(np.array(solution.col_value)[: self.items], 0.0, 1.0)

    def use_whole_charges(self, most_nodes: int, whole: Iterable[int] = ()) -> None:
        """Charges, and the items of `whole`, count fully or not at all, within a budget of search nodes."""
        columns = np.array([*self.charge_columns, *whole], dtype=np.int32)
        if columns.size == 0:
            return
        self.solver.changeColsIntegrality(columns.size, columns, np.full(columns.size, highspy.HighsVarType.kInteger))
        self.solver.setOptionValue("mip_max_nodes", most_nodes)
        self.solver.setOptionValue("mip_rel_gap", 1e-4)
        self.whole = True

    def breaks_whole_charges(self, point: Array) -> bool:
        """Whether a relaxed x would take too many minutes if every room, machine and class it uses counted fully."""
        if not self.charge_columns:
            return False
        used = np.flatnonzero(point > ROUNDING)
        shares = float(self.problem.minutes @ point) - float(self.problem.minutes[used].sum())
        return minutes_of(self.problem, used.tolist()) + shares > self.problem.minutes_available

    def reduced_costs(self) -> Array:
        """How much the objective would change per unit of each item, from the last linear solve, (Q,)."""
        return np.array(self.solver.getSolution().col_dual)[: self.items]

    def add_row(self, low: float, high: float, index: npt.NDArray[np.int32], value: Array) -> None:
        """One row: low <= sum of value . columns[index] <= high."""
        infinity = highspy.kHighsInf
        self.solver.addRow(max(low, -infinity), min(high, infinity), index.size, index.astype(np.int32), value)

    def _sum_row(self, low: float, high: float, items: npt.NDArray[np.intp]) -> None:
        self.add_row(low, high, items.astype(np.int32), np.ones(items.size))

    def _choice_rows(self) -> None:
        problem = self.problem
        self.count_row = self.solver.getNumRow()
        self._sum_row(-np.inf, float(problem.count), np.arange(self.items))
        for group in problem.groups:
            self._sum_row(float(group.minimum), np.inf, np.flatnonzero(group.sites[problem.site]))
        for budget in problem.budgets:
            spends = np.flatnonzero(budget.minutes)
            self.add_row(-np.inf, budget.available + ROUNDING, spends.astype(np.int32), budget.minutes[spends])
        for site in np.unique(problem.site):
            items = np.flatnonzero(problem.site == site)
            if problem.must[site]:
                self._sum_row(1.0, np.inf, items)
            if items.size > 1:
                self._mode_rows(items)

    def _mode_rows(self, items: npt.NDArray[np.intp]) -> None:
        if self.problem.mode is None:
            self._sum_row(-np.inf, 1.0, items)
            return
        modes = self.problem.mode[items]
        for first, one in zip(items, modes, strict=True):
            for second in items[modes > one]:
                self._sum_row(-np.inf, 1.0, np.array([first, second]))

    def _minute_rows(self) -> None:
        problem, charges = self.problem, self.problem.charges
        index, value = list(range(self.items)), list(problem.minutes)
        rooms = np.full(int(problem.room.max(initial=-1)) + 1, charges.per_room)
        for label, costs in ((problem.room, rooms), (problem.machine, charges.per_machine)):
            for place in np.unique(label[label >= 0]):
                if costs[place] > 0:
                    index.append(self._used(np.flatnonzero(label == place)))
                    value.append(float(costs[place]))
        if charges.per_class_change > 0:
            index.append(self._changes())
            value.append(charges.per_class_change)
        self.add_row(-np.inf, problem.minutes_available + ROUNDING, np.array(index, np.int32), np.array(value))

    def _used(self, items: npt.NDArray[np.intp]) -> int:
        """A column that is 1 as soon as one of the items is taken."""
        column = int(self.solver.getNumCol())
        self.solver.addVar(0.0, 1.0)
        for item in items:
            self.add_row(-np.inf, 0.0, np.array([item, column], np.int32), np.array([1.0, -1.0]))
        self.charge_columns.append(column)
        return column

    def _changes(self) -> int:
        classes = np.unique(self.problem.hygiene_class)
        used = [self._used(np.flatnonzero(self.problem.hygiene_class == rank)) for rank in classes]
        column = int(self.solver.getNumCol())
        self.solver.addVar(0.0, float(len(used)))
        self.add_row(-1.0, np.inf, np.array([column, *used], np.int32), np.array([1.0] + [-1.0] * len(used)))
        return column


class _QuietSolver(highspy.Highs):
    """A solver that prints nothing, its banner included, and gives the same answer on every machine."""

    def enableCallbacks(self) -> None:
        # the library prints its banner when it connects its callbacks, so it is silenced just before
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()  # type: ignore[no-untyped-call]


def _quiet_solver() -> highspy.Highs:
    solver = _QuietSolver()  # type: ignore[no-untyped-call]
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("random_seed", 0)
    return solver
