"""One-for-one swaps: give up one sample, take a better one, while every limit stays kept."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.planning.choose_draft import GRAIN, Draft, weighted_sum
from swabwright.planning.choose_finds import Finds
from swabwright.planning.choose_minutes import minutes_of
from swabwright.planning.feasible import SLACK_MINUTES, Limits

Array = npt.NDArray[np.float64]
FloatArray = npt.NDArray[np.float32]
Mask = npt.NDArray[np.bool_]
CLOSE, EQUAL = 5e-3, 1e-5
"""How far the screen may be from the truth: on a few of the rows, and on all of them in single precision."""
SHORTLIST, LONGLIST = 24, 120
"""Swaps judged on all rows at once, and in the end."""
MOST_SWAPS = 60
NOTHING = 1e-15
Swap = tuple[int, int, float]
"""(position out, item in, the most that it can raise the objective)."""


def swap_until_stuck(draft: Draft, limits: Limits) -> tuple[Draft, int]:
    """The draft after its best swaps, one at a time until none helps, and how many were made."""
    for made in range(MOST_SWAPS):
        better = best_swap(draft, limits)
        if better is None:
            return draft, made
        draft = better
    return draft, MOST_SWAPS


def best_swap(draft: Draft, limits: Limits) -> Draft | None:
    """The draft after its best single swap, or None when no allowed swap raises the objective.

    A few thousand rows rank the swaps, all rows judge them: the first few, and only if none helps many more.
    """
    if not draft.items:
        return None
    without = left_without_each(draft.finds, draft.items)
    close = EQUAL if draft.finds.thin is draft.finds else CLOSE
    ranked = _ranked(_screen(Draft(draft.finds.thin, draft.items), _allowed(draft, limits)), draft, close)
    first = _best_of(ranked[:SHORTLIST], draft, without, limits)
    return first or _best_of(ranked[SHORTLIST:LONGLIST], draft, without, limits)


def _best_of(swaps: list[Swap], draft: Draft, without: Array, limits: Limits) -> Draft | None:
    best, rise = None, GRAIN
    lost = without.sum(axis=1) - draft.left.sum()
    for out, item, at_most in swaps:
        if at_most < rise:
            break
        rest = [taken for position, taken in enumerate(draft.items) if position != out]
        gained = _gain(draft, without[out], rest, item) - lost[out]
        if gained > rise and limits.kept([*rest, item]):
            best, rise = [*rest, item], gained
    return None if best is None else Draft(draft.finds, best)


def _gain(draft: Draft, left: Array, rest: list[int], item: int) -> float:
    """What `item` adds to `rest`, which leaves `left` per row."""
    site = draft.finds.problem.site
    shared = [taken for taken in rest if site[taken] == site[item]]
    if shared:
        return float(left @ draft.finds.further(shared, item))
    return float(weighted_sum(left, draft.finds.chance[item]))


def _ranked(screened: FloatArray, draft: Draft, close: float) -> list[Swap]:
    """Swaps that may help, the most promising first, ties by tie key."""
    outs, items = np.nonzero(screened > -close)
    tie = draft.finds.problem.tie
    order = np.lexsort((tie[items], tie[np.array(draft.items)][outs], -np.round(screened[outs, items], 6)))
    outs, items = outs[order[:LONGLIST]], items[order[:LONGLIST]]
    most = (screened[outs, items] + close).tolist()
    return list(zip(outs.tolist(), items.tolist(), most, strict=True))


def _screen(thin: Draft, allowed: Mask) -> FloatArray:
    """Rise of the objective by each swap (position out, item in), single precision; -1 where not allowed."""
    without = left_without_each(thin.finds, thin.items)
    lost = without.sum(axis=1) - thin.left.sum()
    # Products too small for normal numbers would slow the sum down twentyfold and add nothing to it.
    worth = np.where(without < NOTHING, 0.0, without).astype(np.float32)
    gains = _products(worth, thin.finds.chance) - lost.astype(np.float32)[:, None]
    gains[~allowed] = -1.0
    return np.asarray(gains)


def _allowed(draft: Draft, limits: Limits) -> Mask:
    problem = limits.problem
    closed = [draft.closed_by(item) for item in draft.items]
    times_closed = np.sum(closed, axis=0)
    allowed = np.empty((len(draft.items), problem.tie.size), dtype=bool)
    for out in range(len(draft.items)):
        rest = [item for position, item in enumerate(draft.items) if position != out]
        fits = minutes_of(problem, rest) + problem.minutes - SLACK_MINUTES <= problem.minutes_available
        allowed[out] = fits & limits.open & limits.affordable(rest) & (times_closed - closed[out] == 0)
        allowed[out, draft.items[out]] = False
    return allowed


def left_without_each(finds: Finds, items: Sequence[int]) -> Array:
    """Weight x chance that nothing finds when one item is left out, shape (items, rows)."""
    problem = finds.problem
    if problem.mode is None or len(set(problem.site[list(items)].tolist())) == len(items):
        return _left_without_each(finds.chance, np.array(items, dtype=np.int64), finds.weight)
    rests = ([item for item in items if item != out] for out in items)
    return np.array([Draft(finds, rest).left for rest in rests])


@njit(cache=True, nogil=True, fastmath={"reassoc", "contract"})
def _products(worth: FloatArray, chance: FloatArray) -> FloatArray:
    """The matrix product worth . chance transposed; the library's own would wake a thread on every core for it."""
    out = np.empty((worth.shape[0], chance.shape[0]), dtype=np.float32)
    for item in range(chance.shape[0]):
        for position in range(worth.shape[0]):
            total = np.float32(0.0)
            for row in range(worth.shape[1]):
                total += worth[position, row] * chance[item, row]
            out[position, item] = total
    return out


@njit(cache=True, nogil=True)
def _left_without_each(chance: FloatArray, items: npt.NDArray[np.int64], weight: Array) -> Array:
    out = np.empty((items.shape[0], weight.shape[0]))
    before = weight.copy()
    for position in range(items.shape[0]):
        for row in range(weight.shape[0]):
            out[position, row] = before[row]
            before[row] *= 1.0 - chance[items[position], row]
    after = np.ones(weight.shape[0])
    for position in range(items.shape[0] - 1, -1, -1):
        for row in range(weight.shape[0]):
            out[position, row] *= after[row]
            after[row] *= 1.0 - chance[items[position], row]
    return out
