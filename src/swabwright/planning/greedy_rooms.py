"""A start made of room bundles: the samples that together repay the minutes of entering a room."""

import heapq

import numpy as np
import numpy.typing as npt

from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import Finds
from swabwright.planning.choose_minutes import LEAST_MINUTES, minutes_of
from swabwright.planning.feasible import Limits
from swabwright.planning.greedy import lazy_greedy

Mask = npt.NDArray[np.bool_]
MOST_IN_BUNDLE = 6


def room_bundles(finds: Finds, limits: Limits) -> Draft:
    """A draft built room by room, each time the bundle with the most gain per minute; a start for the search.

    A room's bundle is looked at again only when its last rate is the best left: rates hardly ever rise.
    """
    draft = Draft(finds.thin)
    waiting = [(-np.inf, room) for room in sorted(set(limits.problem.room.tolist()))]
    while waiting:
        _rate, room = heapq.heappop(waiting)
        bundle = best_bundle(draft, limits, limits.problem.room == room)
        if bundle is None:
            continue
        heapq.heappush(waiting, (-bundle[0], room))
        if waiting[0] == (-bundle[0], room):
            draft = Draft(draft.finds, draft.items + bundle[1])
    return Draft(finds, draft.items)


def best_bundle(draft: Draft, limits: Limits, among: Mask) -> tuple[float, list[int]] | None:
    """(gain per minute, items) of the best first few items of a place on top of the draft; None when none fit."""
    grown = lazy_greedy(Draft(draft.finds, draft.items), limits, "rate", among, MOST_IN_BUNDLE)
    added = grown.items[len(draft.items) :]
    best: tuple[float, list[int]] | None = None
    walked = Draft(draft.finds, draft.items)
    for size, item in enumerate(added, start=1):
        walked.add(item)
        rate = (walked.value - draft.value) / _minutes_added(draft, walked, limits)
        if best is None or rate > best[0]:
            best = rate, added[:size]
    return best


def _minutes_added(before: Draft, after: Draft, limits: Limits) -> float:
    problem = limits.problem
    return max(minutes_of(problem, after.items) - minutes_of(problem, before.items), LEAST_MINUTES)
