"""Room and machine moves: leave a room for another, or enter one and let the least repaid samples go."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from swabwright.planning.choose_draft import GRAIN, Draft
from swabwright.planning.choose_minutes import LEAST_MINUTES, minutes_of
from swabwright.planning.feasible import Limits
from swabwright.planning.greedy import lazy_greedy
from swabwright.planning.greedy_rooms import best_bundle
from swabwright.planning.swap import left_without_each

Mask = npt.NDArray[np.bool_]
JUDGED = 3
"""Moves, the most promising on the thinned rows, that are judged on all rows."""


def best_room_move(draft: Draft, limits: Limits) -> Draft | None:
    """The draft after its best drop, entry or exchange of a room or machine, or None when none helps."""
    thin = Draft(draft.finds.thin, draft.items)
    proposed = sorted(_moves(thin, limits), key=lambda move: (-move.value, sorted(move.items)))
    promising = [move for move in proposed if move.value > thin.value + GRAIN][:JUDGED]
    tried = [Draft(draft.finds, move.items) for move in promising]
    best = max(tried, key=lambda move: move.value, default=draft)
    return best if best.value > draft.value + GRAIN else None


def _moves(draft: Draft, limits: Limits) -> Iterator[Draft]:
    for place in _places(limits):
        held = [item for item in draft.items if place[item]]
        moved = _leave(draft, limits, place) if held else _enter(draft, limits, place)
        if moved is not None and limits.kept(moved.items):
            yield moved


def _places(limits: Limits) -> Iterator[Mask]:
    """Every room, and every machine that costs minutes to open, as masks over the items."""
    problem = limits.problem
    for room in np.unique(problem.room):
        yield problem.room == room
    for machine in np.unique(problem.machine[problem.machine >= 0]):
        yield problem.machine == machine


def _leave(draft: Draft, limits: Limits, place: Mask) -> Draft | None:
    rest = [item for item in draft.items if not place[item]]
    if limits.completion(rest) is None:
        return None
    fills = [lazy_greedy(Draft(draft.finds, rest), limits, by, ~place) for by in ("gain", "rate")]
    return max(fills, key=lambda filled: filled.value)


def _enter(draft: Draft, limits: Limits, place: Mask) -> Draft | None:
    bundle = best_bundle(draft, _unbound(limits), place)
    if bundle is None:
        return None
    trimmed = trim(Draft(draft.finds, draft.items + bundle[1]), limits)
    return None if trimmed is None else lazy_greedy(trimmed, limits, "rate")


def _unbound(limits: Limits) -> Limits:
    """The same items without count, minutes, budgets, minimums and musts, to grow a bundle on top of a full draft."""
    problem = limits.problem
    no_must = np.zeros_like(problem.must)
    free = replace(problem, count=problem.tie.size, minutes_available=np.inf, budgets=(), groups=(), must=no_must)
    return Limits(free)


def trim(draft: Draft, limits: Limits) -> Draft | None:
    """While too much is taken, let go what finds least per minute it frees, no must and no minimum broken.

    While a budget is exceeded only what spends it goes.
    """
    while not limits.fits(draft.items):
        loose = [item for item in _freeing(draft, limits) if not _needed(draft, limits, item)]
        if not loose:
            return None
        rate = _loss_per_minute(draft, limits)
        out = min(loose, key=lambda item: (rate[item], int(limits.problem.tie[item])))
        draft = Draft(draft.finds, [item for item in draft.items if item != out])
    return draft


def _freeing(draft: Draft, limits: Limits) -> list[int]:
    """Items whose going helps: all, but only what spends them while budgets are exceeded."""
    exceeded = limits.spends[limits.overspent(draft.items)]
    return [item for item in draft.items if exceeded[:, item].any()] if exceeded.size else draft.items


def _needed(draft: Draft, limits: Limits, item: int) -> bool:
    lacking, must = limits.missing([taken for taken in draft.items if taken != item])
    return bool(lacking.any() or must.any())


def _loss_per_minute(draft: Draft, limits: Limits) -> dict[int, float]:
    """What the objective loses per minute freed when each item goes."""
    lost = left_without_each(draft.finds, draft.items).sum(axis=1) - draft.left.sum()
    minutes = minutes_of(limits.problem, draft.items)
    rate = {}
    for item, loss in zip(draft.items, lost, strict=True):
        freed = minutes - minutes_of(limits.problem, [taken for taken in draft.items if taken != item])
        rate[item] = float(loss) / max(freed, LEAST_MINUTES)
    return rate
