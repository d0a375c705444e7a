"""The master of the bound: the best x under the limits against all cuts so far."""

from collections.abc import Iterable

import highspy
import numpy as np
import numpy.typing as npt

from swabwright.planning.bound_limits import ROUNDING, RelaxedLimits
from swabwright.planning.envelope_cuts import ROW_GROUPS, Cut
from swabwright.planning.problem import Problem

Array = npt.NDArray[np.float64]


class Master(RelaxedLimits):
    """Maximise what is found, each group of rows below all its cuts; the optimum is an upper bound of any choice."""

    def __init__(self, problem: Problem, minutes: bool, fixed: Iterable[tuple[int, float]] = ()) -> None:
        super().__init__(problem, minutes, fixed)
        self.top = int(self.solver.getNumCol())
        for group in range(ROW_GROUPS):
            self.solver.addVar(0.0, 1.0)
            self.solver.changeColCost(self.top + group, 1.0)
        self.solver.changeObjectiveSense(highspy.ObjSense.kMaximize)
        self.first_cut = int(self.solver.getNumRow())

    def add(self, cut: Cut) -> None:
        """Hold the found share of every group of rows below its cut."""
        index = np.arange(self.items + 1, dtype=np.int32)
        for group in range(ROW_GROUPS):
            index[-1] = self.top + group
            self.add_row(-np.inf, cut.constant[group], index, np.append(-cut.coefficients[group], 1.0))

    def drop_idle_cuts(self) -> None:
        """Let go the cuts that did not bind in the last linear solve; dropping a cut never breaks the bound."""
        duals = np.array(self.solver.getSolution().row_dual)
        idle = np.flatnonzero(np.abs(duals[self.first_cut :]) < 1e-9) + self.first_cut
        if idle.size:
            self.solver.deleteRows(idle.size, idle.astype(np.int32))

    def bound(self) -> tuple[float, Array]:
        """(no allowed choice finds more than this, the relaxed x behind it, shape (Q,))."""
        bound, point = self.solve()
        return min(1.0, bound + ROUNDING), point
