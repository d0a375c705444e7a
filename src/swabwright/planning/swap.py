"""One-for-one swaps: give up one sample, take a better one, while every limit stays kept."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.planning.choose_draft import GRAIN, Draft
from swabwright.planning.choose_finds import Finds
from swabwright.planning.choose_minutes import minutes_of
from swabwright.planning.feasible import SLACK_MINUTES, Limits

Array = npt.NDArray[np.float64]
FloatArray = npt.NDArray[np.float32]
SHORTLIST = 24
"""Swaps whose exact gain is computed after the single-precision screen of all of them."""
MOST_SWAPS = 60


def swap_until_stuck(draft: Draft, limits: Limits) -> tuple[Draft, int]:
    """The draft after its best swaps, one at a time until none helps, and how many were made."""
    for made in range(MOST_SWAPS):
        better = best_swap(draft, limits)
        if better is None:
            return draft, made
        draft = better
    return draft, MOST_SWAPS


def best_swap(draft: Draft, limits: Limits) -> Draft | None:
    """The draft after its best single swap, or None when no allowed swap raises the objective."""
    if not draft.items:
        return None
    screened = _screen(draft, limits)
    best: Draft | None = None
    for out, item in _shortlist(screened, draft):
        items = [taken for position, taken in enumerate(draft.items) if position != out] + [item]
        if limits.kept(items):
            tried = Draft(draft.finds, items)
            if tried.value > (best or draft).value + GRAIN:
                best = tried
    return best


def _shortlist(screened: FloatArray, draft: Draft) -> list[tuple[int, int]]:
    """The most promising (position out, item in), best first, ties by tie key."""
    outs, items = np.nonzero(screened > -1e-6)
    tie = draft.finds.problem.tie
    order = np.lexsort((tie[items], tie[np.array(draft.items)][outs], -np.round(screened[outs, items], 6)))[:SHORTLIST]
    return [(int(outs[index]), int(items[index])) for index in order]


def _screen(draft: Draft, limits: Limits) -> FloatArray:
    """Rise of the objective by each swap (position out, item in), single precision; -1 where not allowed."""
    finds = draft.finds
    without = left_without_each(finds, draft.items)
    lost = without.sum(axis=1) - draft.left.sum()
    gains = without.astype(np.float32) @ finds.chance.T - lost.astype(np.float32)[:, None]
    gains[~_allowed(draft, limits)] = -1.0
    return np.asarray(gains)


def _allowed(draft: Draft, limits: Limits) -> npt.NDArray[np.bool_]:
    problem = limits.problem
    closed = [draft.closed_by(item) for item in draft.items]
    times_closed = np.sum(closed, axis=0)
    allowed = np.empty((len(draft.items), problem.tie.size), dtype=bool)
    for out in range(len(draft.items)):
        rest = [item for position, item in enumerate(draft.items) if position != out]
        fits = minutes_of(problem, rest) + problem.minutes - SLACK_MINUTES <= problem.minutes_available
        allowed[out] = fits & limits.open & (times_closed - closed[out] == 0)
        allowed[out, draft.items[out]] = False
    return allowed


def left_without_each(finds: Finds, items: Sequence[int]) -> Array:
    """Weight x chance that nothing finds when one item is left out, shape (items, rows)."""
    problem = finds.problem
    if problem.mode is None or len(set(problem.site[list(items)].tolist())) == len(items):
        return _left_without_each(finds.chance, np.array(items, dtype=np.int64), finds.weight)
    rests = ([item for item in items if item != out] for out in items)
    return np.array([Draft(finds, rest).left for rest in rests])


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
