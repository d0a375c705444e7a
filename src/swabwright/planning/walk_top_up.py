"""More samples, and better ones, for the minutes that a fitted walk leaves."""

from collections.abc import Callable, Sequence
from heapq import heapify, heappop, heappush

from swabwright.errors import LimitsClash
from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import Finds
from swabwright.planning.walk import WalkPlanner
from swabwright.planning.walk_stops import WalkStop

Stops = Callable[[Sequence[int]], list[WalkStop]]
"""The stops of these items, openings of one machine shared."""
MayLeave = Callable[[int, Sequence[int]], bool]
"""Whether an item may be given up, the others staying."""
TRIED_IN, TRIED_OUT = 40, 6
"""Exchanges looked at: so many of the best items outside, each against so many of those that add least."""


class TopUp:
    """Adds and exchanges items of a choice, one by one, as long as the walk through them ends within the visit."""

    def __init__(self, finds: Finds, planner: WalkPlanner, stops: Stops, may_leave: MayLeave) -> None:
        self._finds, self._planner, self._stops, self._may_leave = finds, planner, stops, may_leave

    def best(self, items: Sequence[int]) -> list[int]:
        """The items with all that the walk has room for, after exchanges that find more."""
        kept = self.filled(list(items))
        exchanged = self.exchanged(kept)
        return kept if exchanged == kept else self.filled(exchanged)

    def filled(self, items: list[int]) -> list[int]:
        """The items and every further one that the walk has room for, the one that adds most first."""
        draft = Draft(self._finds, items)
        queue = [(-draft.gain(item), int(self._finds.problem.tie[item]), item) for item in self._open(items)]
        heapify(queue)
        while queue and len(draft.items) < self._finds.problem.count:
            _, tie, item = heappop(queue)
            if not self._is_open(item, draft.items):
                continue
            gain = draft.gain(item)
            if queue and gain < -queue[0][0]:
                heappush(queue, (-gain, tie, item))
            elif gain > 0 and self._fits([*draft.items, item]):
                draft.add(item)
        return list(draft.items)

    def exchanged(self, items: list[int]) -> list[int]:
        """The items after exchanges of one that adds little for one outside that adds more, where the walk allows."""
        kept, value = list(items), Draft(self._finds, items).value
        for item in self._best_outside(kept):
            for leaving in self._least(kept):
                tried = [*(one for one in kept if one != leaving), item]
                if not self._is_open(item, tried[:-1]) or not self._may_leave(leaving, tried):
                    continue
                found = Draft(self._finds, tried).value
                if found > value and self._fits(tried):
                    kept, value = tried, found
                    break
        return kept

    def _best_outside(self, items: Sequence[int]) -> list[int]:
        draft, tie = Draft(self._finds, items), self._finds.problem.tie
        ranked = sorted((-draft.gain(item), int(tie[item]), item) for item in self._open(items))
        return [item for gain, _, item in ranked[:TRIED_IN] if gain < 0]

    def _least(self, items: Sequence[int]) -> list[int]:
        """Those whose loss would cost least, given all the others."""
        whole = Draft(self._finds, items).value
        loss = [(whole - Draft(self._finds, [one for one in items if one != item]).value, item) for item in items]
        return [item for _, item in sorted(loss)[:TRIED_OUT]]

    def _open(self, items: Sequence[int]) -> list[int]:
        return [item for item in range(len(self._finds.problem.names)) if self._is_open(item, items)]

    def _is_open(self, item: int, items: Sequence[int]) -> bool:
        """One item a site, and none at a site that must not be sampled."""
        problem = self._finds.problem
        site = int(problem.site[item])
        return not problem.never[site] and all(int(problem.site[other]) != site for other in items)

    def _fits(self, items: Sequence[int]) -> bool:
        stops, available = self._stops(items), self._planner.minutes_available
        if self._planner.minutes(stops) > available:
            return False
        try:
            _, walk = self._planner.walk(stops)
        except LimitsClash:
            return False
        return walk.minutes <= available
