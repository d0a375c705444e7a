"""The samples of a visit and the walk through them, chosen together so that they fit its hours."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from swabwright.case.plan import Walk
from swabwright.detection.items import Item
from swabwright.errors import LimitsClash
from swabwright.planning.choose import as_choice, choose_quickly
from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import Finds, prepare, resampled
from swabwright.planning.feasible import Limits
from swabwright.planning.problem import Budget, Choice, Problem
from swabwright.planning.walk import TimedStop, WalkPlanner
from swabwright.planning.walk_breaks import Windows
from swabwright.planning.walk_room import WalkRoom
from swabwright.planning.walk_stops import StopMaker, WalkStop
from swabwright.planning.walk_top_up import TopUp
from swabwright.planning.walk_ways import best_walk
from swabwright.work.opened import OpenVisit
from swabwright.work.openings import with_openings_shared
from swabwright.work.standing import Standing

SEARCH_ROWS = 3000
"""Rows on which ways through the day are compared; the choice they end at is weighed on all rows."""
UNKNOWN_SHARE = 1e-3
"""Of what an item finds alone, beside what the samples of a walk add: no control is moved for it."""
LEFT_OUT = "what the walk cannot reach in time"


@dataclass(frozen=True)
class Chosen:
    """The chosen items in the order of what each adds, the walk through them, and the problem they solve."""

    problem: Problem
    """With all minutes of the visit that walking and judgement leave in principle."""
    finds: Finds
    choice: Choice
    items: tuple[Item, ...]
    """The chosen ones, in the order of the choice."""
    timed: tuple[TimedStop, ...]
    """All containers in the order of work."""
    walk: Walk


class _Chooser:
    """Chooses for so many minutes, and turns the choice into stops of the walk."""

    def __init__(self, opened: OpenVisit, problem: Problem, items: tuple[Item, ...], windows: Windows) -> None:
        self._plant, self._items, self._windows = opened.case.plant, items, windows
        self._must = {entry.site for entry in opened.visit.limits.must}
        self._maker = StopMaker(opened.case.plant, opened.case.catalogue)
        self._standing = Standing(opened.case.plant, opened.case.catalogue, items)
        self.finds = prepare(problem)
        self._few = resampled(self.finds, SEARCH_ROWS)
        self._gain = self._few.chance @ self._few.weight
        self._place_of = {(item.site_code, item.device, item.mode): place for place, item in enumerate(items)}
        self._known: dict[object, Sequence[WalkStop]] = {}

    def stops(
        self, minutes: float, *, windows: Windows, without: frozenset[tuple[str, str]] = frozenset()
    ) -> Sequence[WalkStop]:
        """The stops of the best choice for so many minutes of items and charges, without some (site code, mode).

        windows: those in which the walk may find lines standing. What was chosen before is remembered.
        """
        asked = (minutes, tuple(windows.items()), without)
        if asked not in self._known:
            self._known[asked] = self._choose(minutes, windows, without)
        return self._known[asked]

    def _choose(self, minutes: float, windows: Windows, without: frozenset[tuple[str, str]]) -> Sequence[WalkStop]:
        budgets = (*self._standing.budgets(windows), self._left_out(without))
        problem = replace(self._few.problem, budgets=budgets, minutes_available=minutes)
        narrower = minutes < self._few.problem.minutes_available or bool(without) or windows != self._windows
        if narrower and Limits(problem).completion([]) is None:
            raise LimitsClash(f"no choice in {minutes:.0f} minutes meets every must and minimum")
        choice = choose_quickly(problem, replace(self._few, problem=problem))
        return self.stops_of(choice.items, choice.gains)

    def stops_of(self, places: Sequence[int], gains: Sequence[float] | None = None) -> list[WalkStop]:
        """The stops of these items, the opening of a machine shared by all that are inside it.

        gains: what each adds; without them what is remembered of each. The walk of a set does not hang on its order.
        """
        tie = self.finds.problem.tie
        worth = dict(zip(places, self._gain[list(places)] if gains is None else gains, strict=True))
        ordered = sorted(places, key=lambda place: int(tie[place]))
        taken = with_openings_shared(self._plant, [self._items[place] for place in ordered])
        return [
            self._maker.surface(item, float(worth[place]), must=item.site_code in self._must)
            for place, item in zip(ordered, taken, strict=True)
        ]

    def restated(self, stops: Sequence[WalkStop]) -> list[WalkStop]:
        """The stops with the openings that they share now, what each adds unchanged."""
        return self.stops_of(self.places(stops), [stop.gain for stop in stops])

    def remember(self, stops: Sequence[WalkStop]) -> None:
        """What the stops of a walk add, so that its controls stay where they are while more is added to it."""
        self._gain *= UNKNOWN_SHARE
        self._gain[self.places(stops)] = [stop.gain for stop in stops]

    def worth(self, stops: Sequence[WalkStop]) -> float:
        """What the stops find together."""
        return Draft(self._few, self.places(stops)).value

    def _left_out(self, without: frozenset[tuple[str, str]]) -> Budget:
        """No minutes for items that are to be left out."""
        out = [(item.site_code, item.mode) in without for item in self._items]
        return Budget(LEFT_OUT, np.array(out, dtype=np.float64), 0.0)

    def places(self, stops: Sequence[WalkStop]) -> list[int]:
        """The item behind each stop."""
        return [self._place_of[stop.code, stop.device, stop.mode] for stop in stops]


def choose_samples(opened: OpenVisit, problem: Problem, items: tuple[Item, ...], planner: WalkPlanner) -> Chosen:
    """The best choice found whose walk ends within the visit; limits that clash are refused in a sentence.

    The way through the day is searched on few rows; what the walk then has room for is weighed on all of them.
    """
    chooser = _Chooser(opened, problem, items, planner.windows)
    may_drop = _may_drop(problem, items)
    fitted = best_walk(chooser.stops, planner.sharing(chooser.restated), chooser.worth, may_drop)

    def may_leave(item: int, others: Sequence[int]) -> bool:
        return may_drop(chooser.stops_of([item])[0], chooser.stops_of(others))

    chooser.remember(fitted.chosen)
    by_some = planner.going_by(fitted.windows)
    room = WalkRoom((by_some,) if fitted.windows == planner.windows else (by_some, planner), chooser.stops_of)
    places = TopUp(chooser.finds, room, may_leave).best(chooser.places(fitted.chosen))
    return chosen_of(chooser.finds, items, places, room.walk(places) or (fitted.timed, fitted.walk))


def chosen_of(
    finds: Finds, items: tuple[Item, ...], places: Sequence[int], walked: tuple[tuple[TimedStop, ...], Walk]
) -> Chosen:
    """These items as the choice of a visit, in the order of what each adds to the chance of finding it."""
    choice = as_choice(Draft(finds, places), Limits(finds.problem, places))
    gains = dict(zip((items[place].site_code for place in choice.items), choice.gains, strict=True))
    told = tuple(_told(one, gains) for one in walked[0])
    return Chosen(finds.problem, finds, choice, tuple(items[place] for place in choice.items), told, walked[1])


def _told(one: TimedStop, gains: dict[str, float]) -> TimedStop:
    """The stop with what its sample adds to those chosen before it; controls add nothing."""
    gain = gains[one.stop.code] if one.stop.kind == "surface" else 0.0
    return replace(one, stop=replace(one.stop, gain=gain))


def _may_drop(problem: Problem, items: tuple[Item, ...]) -> Callable[[WalkStop, Sequence[WalkStop]], bool]:
    """Whether a stop can be left out: it is no must, and every minimum it counts for is met without it."""
    site_of = {item.site_code: int(problem.site[place]) for place, item in enumerate(items)}

    def allowed(stop: WalkStop, others: Sequence[WalkStop]) -> bool:
        left = [site_of[other.code] for other in others]
        needed = (group for group in problem.groups if group.sites[site_of[stop.code]])
        return not stop.must and all(int(group.sites[left].sum()) >= group.minimum for group in needed)

    return allowed
