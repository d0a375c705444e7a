"""The room that a walk leaves: whether it fits with these items, and for how many minutes more."""

from collections.abc import Callable, Sequence

from swabwright.case.plan import Walk
from swabwright.errors import LimitsClash
from swabwright.planning.walk import TimedStop, WalkPlanner
from swabwright.planning.walk_stops import WalkStop

Stops = Callable[[Sequence[int]], list[WalkStop]]
"""The stops of these items, openings of one machine shared."""
Timed = tuple[tuple[TimedStop, ...], Walk]
NO_ROOM = -1.0


class WalkRoom:
    """Answers for sets of items whether the walk through them ends within the visit, and remembers the answers."""

    def __init__(self, planners: Sequence[WalkPlanner], stops: Stops) -> None:
        """planners: the same team going by other breaks; a walk fits when it does for one of them."""
        self._planners, self._stops = planners, stops
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
        stops, available = self._stops(items), self._planners[0].minutes_available
        if not stops:
            return available
        if self._planners[0].minutes(stops) > available:
            return NO_ROOM
        found = self._best(stops)
        return NO_ROOM if found is None else available - found[1].minutes + sum(wait.minutes for wait in found[1].waits)

    def walk(self, items: Sequence[int]) -> Timed | None:
        """The walk through the items by the first breaks by which it fits, None when it fits by none."""
        return self._best(self._stops(items))

    def _best(self, stops: Sequence[WalkStop]) -> Timed | None:
        for planner in self._planners:
            try:
                timed, walk = planner.walk(stops)
            except LimitsClash:
                continue
            if walk.minutes <= planner.minutes_available:
                return timed, walk
        return None
