"""A choice of samples whose walk fits the hours of the visit: fewer while it is too long, more while there is room."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from swabwright.case.plan import Walk
from swabwright.errors import LimitsClash
from swabwright.planning.clock_windows import StopMissing
from swabwright.planning.walk import TimedStop, WalkPlanner
from swabwright.planning.walk_stops import WalkStop

ROUNDS_AT_MOST = 8
A_MINUTE = 1.0
Choose = Callable[[float], Sequence[WalkStop]]
MayDrop = Callable[[WalkStop, Sequence[WalkStop]], bool]


@dataclass(frozen=True)
class FittedWalk:
    """The chosen stops on a walk that ends within the visit."""

    timed: tuple[TimedStop, ...]
    walk: Walk
    chosen: tuple[WalkStop, ...]
    """The surface samples among them, in the order of the choice."""
    dropped: tuple[WalkStop, ...]
    """Chosen at first and left out because the walk was too long or its line never stood long enough."""
    minutes_for_items: float
    """The minutes for items and charges that the choice was made with."""


def fit_walk(choose: Choose, planner: WalkPlanner, *, may_drop: MayDrop | None = None) -> FittedWalk:
    """The best choice found whose walk, waits included, ends within the visit.

    choose: gives the stops, with their gains, for so many minutes of items and charges. may_drop(stop, others): whether
    a stop can be left out (no must, no zone minimum broken). A walk that nothing can shorten is refused.
    """
    stops, minutes = _longest_that_fits(choose, planner)
    allowed = may_drop or (lambda stop, _: not stop.must)
    kept = list(stops)
    dropped: list[WalkStop] = []
    while kept:
        worst = _in_the_way(kept, planner)
        if isinstance(worst, tuple):
            timed, walk = worst
            return FittedWalk(timed, walk, tuple(kept), tuple(dropped), minutes)
        candidate = next((stop for stop in worst if allowed(stop, [one for one in kept if one is not stop])), None)
        if candidate is None:
            raise LimitsClash(_too_long(kept, planner))
        kept = [stop for stop in kept if stop is not candidate]
        dropped.append(candidate)
    raise LimitsClash(f"not one sample fits into the {planner.minutes_available:.0f} minutes of the visit; allow more")


def _longest_that_fits(choose: Choose, planner: WalkPlanner) -> tuple[Sequence[WalkStop], float]:
    """The choice with the most gain among those tried whose walk fits; else the shortest one tried."""
    available = planner.minutes_available
    fits, too_long, minutes = 0.0, available + 1.0, available
    tried: list[tuple[bool, float, float, Sequence[WalkStop]]] = []
    for _ in range(ROUNDS_AT_MOST):
        stops = choose(minutes)
        over = planner.minutes(stops) - available
        gain = sum(stop.gain for stop in stops)
        tried.append((over <= 0, gain if over <= 0 else -over, minutes, stops))
        fits, too_long = (max(fits, minutes), too_long) if over <= 0 else (fits, min(too_long, minutes))
        shortest = min((stop.minutes for stop in stops), default=A_MINUTE)
        if minutes >= available >= available + over or too_long - fits < shortest:
            break
        guess = minutes - over
        minutes = guess if fits < guess < too_long else (fits + min(too_long, available)) / 2
    best = max(tried, key=lambda one: one[:2])
    return best[3], best[2]


def _in_the_way(kept: Sequence[WalkStop], planner: WalkPlanner) -> tuple[tuple[TimedStop, ...], Walk] | list[WalkStop]:
    """The walk when it ends within the visit; else the stops in the order in which to give them up."""
    try:
        timed, walk = planner.walk(kept)
    except StopMissing as missing:
        if missing.stop.must:
            raise
        return [missing.stop]
    if walk.minutes <= planner.minutes_available:
        return timed, walk
    waits = {one.stop.code: one.wait_minutes for one in timed}
    return sorted(kept, key=lambda stop: stop.gain / (stop.minutes + waits.get(stop.code, 0.0)))


def _too_long(kept: Sequence[WalkStop], planner: WalkPlanner) -> str:
    minutes, allowed = planner.minutes(kept), planner.minutes_available
    return (
        f"the walk through the {len(kept)} sites that must be in the plan takes {minutes:.0f} minutes "
        f"and the visit leaves {allowed:.0f}; allow {minutes - allowed:.0f} minutes more, or fewer such sites"
    )
