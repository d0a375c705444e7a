"""A start from the relaxed problem: which rooms and machines are worth their minutes, seen all at once."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from swabwright.planning.bound_rounds import Rounds, Tightening
from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import Finds
from swabwright.planning.envelope import Master
from swabwright.planning.envelope_cuts import CutMaker
from swabwright.planning.feasible import Limits

Array = npt.NDArray[np.float64]
ROUNDS = 10


def relaxed_start(finds: Finds, limits: Limits, known: Sequence[int]) -> list[int] | None:
    """A set that keeps the limits, rounded from the relaxed optimum on the thinned rows; None when none is near.

    known: a choice at hand, the first inner point. Greedy sees one room at a time; the relaxation weighs all.
    """
    thin = finds.thin
    rows = thin.problem.weight.size
    maker = CutMaker(thin.problem, thin.chance[:, :rows])
    start = np.zeros(limits.problem.tie.size)
    start[list(known)] = 1.0
    found = Draft(thin, known).value
    work = Tightening(Master(limits.problem, minutes=True), Rounds(maker, start, found))
    work.run(ROUNDS, prune=False)
    return rounded(work.point, limits)


def rounded(point: Array, limits: Limits) -> list[int] | None:
    """The items with the largest shares of a relaxed x that together keep the limits, completed if need be."""
    items: list[int] = []
    closed = np.zeros(point.size, dtype=bool)
    for item in np.lexsort((limits.problem.tie, -np.round(point, 9))).tolist():
        if point[item] <= 0.0 or len(items) == limits.problem.count:
            break
        if not closed[item] and limits.completion([*items, item]) is not None:
            items.append(item)
            closed |= limits.problem.excluded_by(item)
    return limits.completion(items)
