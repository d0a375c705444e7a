"""A choice of samples whose walk fits the hours of the visit: fewer while it is too long, more while there is room."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Protocol

from swabwright.case.plan import Walk
from swabwright.errors import LimitsClash
from swabwright.planning.walk import TimedStop, WalkPlanner
from swabwright.planning.walk_shorten import MayDrop, filled, shortened
from swabwright.planning.walk_stops import WalkStop

ROUNDS_AT_MOST = 8
A_MINUTE = 1.0
ROUNDS_WITHOUT = 3
Choose = Callable[[float], Sequence[WalkStop]]


class ChooseWithout(Protocol):
    """A choice for so many minutes that leaves out some (site code, mode)."""

    def __call__(self, minutes: float, *, without: frozenset[tuple[str, str]]) -> Sequence[WalkStop]:
        """The stops with their gains."""


@dataclass(frozen=True)
class FittedWalk:
    """The chosen stops on a walk that ends within the visit."""

    timed: tuple[TimedStop, ...]
    walk: Walk
    chosen: tuple[WalkStop, ...]
    """The surface samples among them, in the order of their gain."""
    dropped: tuple[WalkStop, ...]
    """Chosen at first and left out because the walk was too long or its line never stood long enough."""
    minutes_for_items: float
    """The minutes for items and charges that the choice was made with."""

    @property
    def gain(self) -> float:
        """What the chosen samples add together."""
        return sum(stop.gain for stop in self.chosen)


@dataclass(frozen=True)
class _Tried:
    """One choice that was made, and by how many minutes its walk is too long, waits left out."""

    minutes: float
    stops: Sequence[WalkStop]
    over: float

    @property
    def worth(self) -> tuple[bool, float]:
        """Walks that fit first, then the gain; of those that do not, the shortest."""
        fits = self.over <= 0
        return fits, sum(stop.gain for stop in self.stops) if fits else -self.over


def fit_walk(
    choose: Choose,
    planner: WalkPlanner,
    *,
    may_drop: MayDrop | None = None,
    choose_without: ChooseWithout | None = None,
) -> FittedWalk:
    """The best choice found whose walk, waits included, ends within the visit.

    choose: gives the stops, with their gains, for so many minutes of items and charges. may_drop(stop, others): whether
    a stop can be left out (no must, no zone minimum broken). choose_without: the same choice without some (site, mode);
    asked when waits for their lines leave time unused. A walk that nothing can shorten is refused.
    """
    allowed = may_drop or (lambda stop, _: not stop.must)
    best = _fitted(choose, planner, allowed)
    without: frozenset[tuple[str, str]] = frozenset()
    for _ in range(ROUNDS_WITHOUT):
        waited_for = {(stop.code, stop.mode) for stop in best.dropped if stop.halt.needs_line_stop and not stop.must}
        if choose_without is None or waited_for <= without:
            break
        without |= waited_for
        again = _fitted(partial(choose_without, without=without), planner, allowed)
        if again.gain <= best.gain:
            break
        best = again
    return best


def _fitted(choose: Choose, planner: WalkPlanner, allowed: MayDrop) -> FittedWalk:
    tried = _choices(choose, planner)
    best = max(tried, key=lambda one: one.worth)
    kept = shortened(best.stops, planner, allowed)
    others = [stop for one in tried for stop in one.stops]
    kept = filled(kept, others, planner, at_most=max(len(one.stops) for one in tried))
    while kept:
        timed, walk = planner.walk(kept)
        if walk.minutes <= planner.minutes_available:
            return FittedWalk(timed, walk, tuple(kept), _left_out(best.stops, kept), best.minutes)
        # The quick look leaves out how controls shift what follows them, by minutes at most.
        kept = shortened(kept, planner, allowed, over=walk.minutes - planner.minutes_available)
    raise LimitsClash(f"not one sample fits into the {planner.minutes_available:.0f} minutes of the visit; allow more")


def _choices(choose: Choose, planner: WalkPlanner) -> list[_Tried]:
    """Choices for more and fewer minutes, closing in on the most whose walk fits."""
    available = planner.minutes_available
    fits, too_long, minutes = 0.0, available + A_MINUTE, available
    tried: list[_Tried] = []
    for _ in range(ROUNDS_AT_MOST):
        stops = choose(minutes)
        one = _Tried(minutes, stops, planner.minutes(stops) - available)
        tried.append(one)
        fits, too_long = (max(fits, minutes), too_long) if one.over <= 0 else (fits, min(too_long, minutes))
        shortest = min((stop.minutes for stop in stops), default=A_MINUTE)
        if fits == available or too_long - fits < shortest:
            break
        guess = minutes - one.over
        minutes = guess if fits < guess < too_long else (fits + min(too_long, available)) / 2
    return tried


def _left_out(chosen: Sequence[WalkStop], kept: Sequence[WalkStop]) -> tuple[WalkStop, ...]:
    codes = {stop.code for stop in kept}
    return tuple(stop for stop in chosen if stop.code not in codes)
