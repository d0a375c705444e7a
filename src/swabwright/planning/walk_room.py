"""The room that a walk leaves: whether it fits with these items, and for how many minutes more."""

from collections.abc import Callable, Sequence

from swabwright.errors import LimitsClash
from swabwright.planning.walk import WalkPlanner
from swabwright.planning.walk_stops import WalkStop

Stops = Callable[[Sequence[int]], list[WalkStop]]
"""The stops of these items, openings of one machine shared."""
NO_ROOM = -1.0


class WalkRoom:
    """Answers for sets of items whether the walk through them ends within the visit, and remembers the answers."""

    def __init__(self, planner: WalkPlanner, stops: Stops) -> None:
        self._planner, self._stops = planner, stops
        self._known: dict[frozenset[int], float] = {}

    def fits(self, items: Sequence[int]) -> bool:
        """Whether the walk through the items, controls and waits included, ends within the visit."""
        return self.minutes_left(items) >= 0

    def minutes_left(self, items: Sequence[int]) -> float:
        """Minutes of the visit that nothing is done in, waits among them; NO_ROOM when the walk does not fit."""
        asked = frozenset(items)
        if asked not in self._known:
            self._known[asked] = self._look(items)
        return self._known[asked]

    def _look(self, items: Sequence[int]) -> float:
        stops, available = self._stops(items), self._planner.minutes_available
        if not stops:
            return available
        if self._planner.minutes(stops) > available:
            return NO_ROOM
        try:
            _, walk = self._planner.walk(stops)
        except LimitsClash:
            return NO_ROOM
        if walk.minutes > available:
            return NO_ROOM
        return available - walk.minutes + sum(wait.minutes for wait in walk.waits)
