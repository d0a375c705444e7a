"""A few rows that stand for all planning rows: drawn in order of what the plan leaves silent, then calibrated."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from swabwright.planning.choose_finds import Finds

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

STEPS = 255
LARGEST_EXPONENT = 8.0
"""An item that leaves less than exp(-8) silent counts as leaving that."""
ROUNDS = 30
RIDGE = 1e-4
GOLDEN = (5**0.5 - 1) / 2


@dataclass(frozen=True)
class FewRows:
    """Drawn rows with their weights, and the items' exponents as whole steps of `step`."""

    weight: FloatArray
    """(rows,), together 1."""
    exponents: npt.NDArray[np.uint8]
    """(items, rows)"""
    step: float


def few_rows(finds: Finds, plan: Sequence[int], items: Sequence[int], count: int) -> FewRows:
    """`count` rows at most that agree with all rows on single items, on every beginning of the plan and without each.

    items: those of the table, the plan's first. Drawn systematically (Madow 1949), weights then calibrated to the full
    rows' figures by exponential tilting (Deville and Sarndal, J Am Stat Assoc 1992;87:376).
    """
    exponents = item_exponents(finds, plan, items)
    weight = np.asarray(finds.problem.weight, dtype=float)
    rows, drawn = _drawn(exponents[: len(plan)].sum(axis=0), weight, count)
    largest = min(float(exponents.max(initial=0.0)), LARGEST_EXPONENT)
    step = max(largest, 1e-6) / STEPS
    steps = _whole_steps(exponents[:, rows], step)
    # Rounding is already in the few rows' exponents, so the weights make up for it as well.
    wanted = _silences(exponents, len(plan)) @ weight
    calibrated = _tilted(_silences(steps.astype(float) * step, len(plan)), drawn, wanted)
    return FewRows(calibrated, steps, step)


def item_exponents(finds: Finds, plan: Sequence[int], items: Sequence[int]) -> FloatArray:
    """Minus the logarithm of what each item leaves silent, shape (items, S); a further one at a site on top of it."""
    size = len(finds.problem.weight)
    found = np.empty((len(items), size))
    for place, item in enumerate(items):
        site = finds.problem.site[item]
        before = [one for one in plan[:place] if finds.problem.site[one] == site] if place < len(plan) else []
        found[place] = finds.further(before, item)[:size] if before else finds.chance[item][:size]
    return -np.log1p(-np.clip(found, 0.0, 1.0 - np.exp(-LARGEST_EXPONENT)))


def _drawn(summed: FloatArray, weight: FloatArray, count: int) -> tuple[IntArray, FloatArray]:
    """Rows drawn at equal distances of weight in the order of their silence; drawn twice, a row counts twice."""
    # Neighbours in this order differ little in what the plan finds, so a few of them stand for all.
    order = np.lexsort((np.arange(len(weight)), summed))
    ends = np.cumsum(weight[order])
    marks = (np.arange(count) + 0.5) / count * ends[-1]
    rows, times = np.unique(order[np.searchsorted(ends, marks)], return_counts=True)
    return rows, times / count


def _whole_steps(exponents: FloatArray, step: float) -> npt.NDArray[np.uint8]:
    """Exponents in whole steps, the rest of each item carried to the next, so that sums stay within one step."""
    steps = np.empty(exponents.shape, dtype=np.uint8)
    # The first rest differs from row to row: small exponents are not lost in all rows alike.
    rest = (np.arange(exponents.shape[1]) * GOLDEN) % 1.0 - 0.5
    for place, exponent in enumerate(exponents):
        exact = exponent / step + rest
        steps[place] = np.clip(np.rint(exact), 0, STEPS)
        rest = np.clip(exact - steps[place], -0.5, 0.5)
    return steps


def _silences(exponents: FloatArray, planned: int) -> FloatArray:
    """What is left silent per row, (sets, rows): by each item, each beginning of the plan, the plan without each."""
    plan = exponents[:planned]
    beginnings = np.cumsum(plan, axis=0)
    without = beginnings[-1] - plan if planned else plan
    return np.asarray(np.exp(-np.concatenate([exponents, beginnings, without])))


def _tilted(silences: FloatArray, weight: FloatArray, wanted: FloatArray) -> FloatArray:
    """The weights nearest to `weight` under which the mean silences are the wanted ones; always positive."""
    off = silences - wanted[:, None]
    off /= np.maximum(off.std(axis=1, keepdims=True), 1e-6)
    tilt = np.zeros(len(off))
    for _ in range(ROUNDS):
        tilted = _weights(off, weight, tilt)
        mean = off @ tilted
        spread = (off * tilted) @ off.T - np.outer(mean, mean)
        # A hair of ridge: sets that say nearly the same would blow the tilt up.
        move = np.linalg.solve(spread + RIDGE * np.eye(len(off)), mean + RIDGE * tilt)
        # A step that would change a weight more than e-fold is shortened.
        tilt -= move / max(1.0, float(np.abs(move @ off).max()))
        if float(np.abs(move).max()) < RIDGE:
            break
    return _weights(off, weight, tilt)


def _weights(off: FloatArray, weight: FloatArray, tilt: FloatArray) -> FloatArray:
    exponent = tilt @ off
    tilted = weight * np.exp(exponent - exponent.max())
    return np.asarray(tilted / tilted.sum())
