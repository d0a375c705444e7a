"""Which stops to give up when a walk is too long, waits counted in, and which to take up when there is room."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import isinf

from swabwright.errors import LimitsClash
from swabwright.planning.walk import QuickStop, WalkPlanner
from swabwright.planning.walk_stops import WalkStop

MayDrop = Callable[[WalkStop, Sequence[WalkStop]], bool]
TRIES_AT_MOST = 40
"""Stops tried again after others were given up; those of most gain come first."""


A_HAIR = 1e-9


class HeldUp(LimitsClash):
    """A walk that is too long, or that comes too late for a line's stop, and in which nothing may be given up."""

    def __init__(self, stops: Sequence[WalkStop], sentence: str) -> None:
        self.stops = tuple(stops)
        """The stops that come too late, or that are waited for: without them the walk could be made."""
        super().__init__(sentence)


@dataclass(frozen=True)
class _Bundle:
    """Stops that are given up together: one alone, or all that one wait is for."""

    stops: tuple[WalkStop, ...]
    minutes: float

    @property
    def gain_per_minute(self) -> float:
        return sum(stop.gain for stop in self.stops) / max(self.minutes, 1e-9)


def shortened(stops: Sequence[WalkStop], planner: WalkPlanner, allowed: MayDrop, over: float = 0.0) -> list[WalkStop]:
    """The stops left when those of least gain per minute are given up until the walk ends in time.

    over: minutes known to be too many beyond what the quick look shows. Sites that come too late for their stop go
    first. When nothing more may be given up the walk is refused, with the minutes lacking or the stop to agree.
    """
    kept, missing = list(stops), over
    while kept:
        kept = planner.restated(kept)
        quick = planner.quickly(kept)
        late = [one.stop for one in quick if isinf(one.leaves)]
        missing = max(missing, _ends(quick, planner) - planner.minutes_available)
        if missing <= 0:
            return kept
        if late:
            given_up = _for_late(late, quick, planner, allowed)
        else:
            given_up = _given_up(kept, _bundles(quick), allowed, missing)
        if not given_up and late:
            raise HeldUp(late, planner.no_stop_words(late[0]))
        if not given_up:
            raise HeldUp(_waited_for(quick), _nothing_to_give_up(quick, planner))
        kept = [stop for stop in kept if stop not in given_up]
        missing = 0.0
    return kept


def filled(kept: Sequence[WalkStop], others: Sequence[WalkStop], planner: WalkPlanner, at_most: int) -> list[WalkStop]:
    """The stops kept, and of the others, most gain first, those with which the walk still ends in time."""
    taken, tried = list(kept), {stop.code for stop in kept}
    for stop in sorted(others, key=lambda one: -one.gain)[: TRIES_AT_MOST + len(kept)]:
        if len(taken) < at_most and stop.code not in tried:
            tried.add(stop.code)
            if fits([*taken, stop], planner):
                taken.append(stop)
    return planner.restated(taken)


def fits(stops: Sequence[WalkStop], planner: WalkPlanner) -> bool:
    """Whether the walk through the stops, judged quickly, ends in time and meets every window."""
    return _ends(planner.quickly(planner.restated(stops)), planner) <= planner.minutes_available


def _ends(quick: Sequence[QuickStop], planner: WalkPlanner) -> float:
    """Minutes from the start of the visit to the end of the walk, controls included."""
    return max((one.leaves for one in quick), default=0.0) + planner.closing_minutes([one.stop for one in quick])


def _bundles(quick: Sequence[QuickStop]) -> list[_Bundle]:
    """Each stop alone, but all that share a wait together with its minutes."""
    bundles: list[_Bundle] = []
    waiting: int | None = None
    for one in quick:
        if one.waits > 0:
            waiting = len(bundles)
            bundles.append(_Bundle((one.stop,), one.stop.minutes + one.waits))
        elif waiting is not None and one.stop.halt.needs_line_stop:
            shared = bundles[waiting]
            bundles[waiting] = _Bundle((*shared.stops, one.stop), shared.minutes + one.stop.minutes)
        else:
            bundles.append(_Bundle((one.stop,), one.stop.minutes))
    return bundles


def _given_up(kept: Sequence[WalkStop], bundles: Sequence[_Bundle], allowed: MayDrop, minutes: float) -> list[WalkStop]:
    """Stops of the bundles of least gain per minute that together free so many minutes."""
    gone: list[WalkStop] = []
    for bundle in sorted(bundles, key=lambda one: one.gain_per_minute):
        if minutes <= 0:
            break
        free = _droppable(bundle.stops, kept, gone, allowed)
        gone.extend(free)
        whole = len(free) == len(bundle.stops)
        minutes -= bundle.minutes if whole else sum(stop.minutes for stop in free)
    return gone


def _droppable(
    stops: Sequence[WalkStop], kept: Sequence[WalkStop], gone: Sequence[WalkStop], allowed: MayDrop
) -> list[WalkStop]:
    free: list[WalkStop] = []
    for stop in stops:
        left = [one for one in kept if one != stop and one not in gone and one not in free]
        if allowed(stop, left):
            free.append(stop)
    return free


def _for_late(
    late: Sequence[WalkStop], quick: Sequence[QuickStop], planner: WalkPlanner, allowed: MayDrop
) -> list[WalkStop]:
    """Of the late stops and those that take up the same windows the one that adds least, if it may be left out.

    Else what holds up the first late one and adds least per minute.
    """
    kept = [one.stop for one in quick]
    rivals = sorted((stop for stop in kept if _share_windows(stop, late, planner)), key=lambda stop: stop.gain)
    free = _droppable(rivals, kept, [], allowed)[:1]
    # Only what comes before a late stop can bring it forward; how much is seen when the walk is judged again.
    earlier = quick[: kept.index(late[0])]
    return free or _given_up(kept, _bundles(earlier), allowed, A_HAIR)


def _share_windows(stop: WalkStop, late: Sequence[WalkStop], planner: WalkPlanner) -> bool:
    """Whether a stop is late, or needs its line to stand while the line of a late one stands."""
    if stop in late or not stop.halt.needs_line_stop:
        return stop in late
    own = planner.windows.get(stop.at.site.line or "", ())
    theirs = [window for one in late for window in planner.windows.get(one.at.site.line or "", ())]
    return any(a.opens < b.closes and b.opens < a.closes for a in own for b in theirs)


def _waited_for(quick: Sequence[QuickStop]) -> list[WalkStop]:
    waiting = {one.stop.code for one in quick if one.waits > 0}
    return [stop for bundle in _bundles(quick) if bundle.stops[0].code in waiting for stop in bundle.stops]


def _nothing_to_give_up(quick: Sequence[QuickStop], planner: WalkPlanner) -> str:
    ends, allowed = _ends(quick, planner), planner.minutes_available
    waits = sum(one.waits for one in quick)
    return (
        f"the walk through the {len(quick)} sites that must be in the plan takes {ends:.0f} minutes, {waits:.0f} of "
        f"them waiting for lines to stand, and the visit leaves {allowed:.0f}; allow {max(ends - allowed, 1.0):.0f} "
        "minutes more, agree other stops with the plant, or ask for fewer such sites"
    )
