"""A choice of samples whose walk fits the hours of the visit: fewer while it is too long, more while there is room."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from math import isfinite
from typing import Protocol

from swabwright.case.plan import Walk
from swabwright.errors import LimitsClash
from swabwright.planning.walk import TimedStop, WalkPlanner
from swabwright.planning.walk_breaks import Windows
from swabwright.planning.walk_exchange import exchanged
from swabwright.planning.walk_shorten import HeldUp, MayDrop, filled, shortened
from swabwright.planning.walk_stops import WalkStop

ROUNDS_AT_MOST = 3
ROUNDS_AGAIN = 2
"""A choice is the dear part: once the minutes are known nearly, it is asked for twice at most."""
A_MINUTE = 1.0
ROUNDS_WITHOUT = 1
ROUNDS_LATE = 6
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
    windows: Windows
    """Those that the walk goes by; with others it might wait where it need not."""

    @property
    def gain(self) -> float:
        """What the chosen samples add together."""
        return sum(stop.gain for stop in self.chosen)


@dataclass(frozen=True)
class _Tried:
    """One choice that was made, and by how many minutes its walk is too long, waits counted in."""

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
    fitter = _Fitter(choose, choose_without, planner, may_drop or (lambda stop, _: not stop.must))
    best = fitter.first()
    for _ in range(ROUNDS_WITHOUT):
        again = fitter.without_what_was_not_worth_its_wait(best)
        if again is None or again.gain <= best.gain:
            break
        best = again
    return fitter.exchanged(best)


class _Fitter:
    """Chooses, walks and chooses again, and remembers what has been left out of the choice on the way."""

    def __init__(
        self, choose: Choose, choose_without: ChooseWithout | None, planner: WalkPlanner, allowed: MayDrop
    ) -> None:
        self._choose, self._choose_without = choose, choose_without
        self._planner, self._allowed = planner, allowed
        self._without: frozenset[tuple[str, str]] = frozenset()
        self._minutes = planner.minutes_available

    def first(self) -> FittedWalk:
        """The first choice that can be walked; sites that hold it up make room for others."""
        for _ in range(ROUNDS_LATE):
            try:
                return self._fitted()
            except HeldUp as held_up:
                least = sorted(held_up.stops, key=lambda stop: stop.gain)
                if not self._leave_out(least[: len(least) // 2 + 1]):
                    raise
        return self._fitted()

    def without_what_was_not_worth_its_wait(self, best: FittedWalk) -> FittedWalk | None:
        """The walk of a choice without the sites that were given up for their wait; None when there are none."""
        if not self._leave_out([stop for stop in best.dropped if stop.halt.needs_line_stop]):
            return None
        try:
            return self._fitted()
        except LimitsClash:
            # Without them a minimum cannot be met any more: the walk found before stands.
            return None

    def exchanged(self, best: FittedWalk) -> FittedWalk:
        """The walk after exchanges with sites that were given up, where one gains."""
        kept = exchanged(best.chosen, best.dropped, self._planner, self._allowed)
        if kept == list(best.chosen):
            return best
        try:
            kept = self._planner.restated(kept)
            timed, walk = self._planner.walk(kept)
        except LimitsClash:
            # Controls that the quick look leaves out made a stop late: the walk found before stands.
            return best
        if walk.minutes > self._planner.minutes_available:
            return best
        left_out = _left_out((*best.chosen, *best.dropped), kept)
        return replace(best, timed=timed, walk=walk, chosen=tuple(kept), dropped=left_out)

    def _leave_out(self, stops: Sequence[WalkStop]) -> bool:
        """Keep these out of every further choice; False when that cannot be asked or changes nothing."""
        more = {(stop.code, stop.mode) for stop in stops if not stop.must} - self._without
        self._without |= more
        return bool(more) and self._choose_without is not None

    def _stops(self, minutes: float) -> Sequence[WalkStop]:
        if self._without and self._choose_without is not None:
            return self._choose_without(minutes, without=self._without)
        return self._choose(minutes)

    def _fitted(self) -> FittedWalk:
        planner, rounds = self._planner, ROUNDS_AGAIN if self._without else ROUNDS_AT_MOST
        tried = _choices(self._stops, planner, self._minutes, rounds)
        best = max(tried, key=lambda one: one.worth)
        self._minutes = best.minutes
        kept = shortened(best.stops, planner, self._allowed)
        others = [stop for one in tried for stop in one.stops]
        kept = filled(kept, others, planner, at_most=max(len(one.stops) for one in tried))
        while kept:
            timed, walk = planner.walk(kept)
            if walk.minutes <= planner.minutes_available:
                left_out = _left_out(best.stops, kept)
                return FittedWalk(timed, walk, tuple(kept), left_out, best.minutes, planner.windows)
            # The quick look leaves out how controls shift what follows them, by minutes at most.
            kept = shortened(kept, planner, self._allowed, over=walk.minutes - planner.minutes_available)
        minutes = planner.minutes_available
        raise LimitsClash(f"not one sample fits into the {minutes:.0f} minutes of the visit; allow more")


def _choices(choose: Choose, planner: WalkPlanner, minutes: float, rounds: int) -> list[_Tried]:
    """Choices for more and fewer minutes than these, closing in on the most whose walk fits.

    Where fewer minutes allow no choice at all the walk has to be shortened instead.
    """
    available = planner.minutes_available
    fits, too_long = 0.0, available + A_MINUTE
    tried: list[_Tried] = []
    for _ in range(rounds):
        try:
            stops = choose(minutes)
        except LimitsClash:
            if not tried:
                raise
            fits, minutes = minutes, (minutes + too_long) / 2
            continue
        one = _Tried(minutes, stops, _ends(stops, planner) - available)
        tried.append(one)
        fits, too_long = (max(fits, minutes), too_long) if one.over <= 0 else (fits, min(too_long, minutes))
        shortest = min((stop.minutes for stop in stops), default=A_MINUTE)
        # Near enough: a sample too many is given up, room for one or two is filled from the other choices.
        near = -2 * shortest < one.over < shortest
        if fits == available or too_long - fits < shortest or near:
            break
        guess = minutes - one.over
        minutes = guess if fits < guess < too_long else (fits + min(too_long, available)) / 2
    return tried


def _ends(stops: Sequence[WalkStop], planner: WalkPlanner) -> float:
    """Minutes to the end of the walk with its waits and controls; stops that come too late are passed by."""
    in_time = [one.leaves for one in planner.quickly(stops) if isfinite(one.leaves)]
    return max(in_time, default=0.0) + planner.closing_minutes(stops)


def _left_out(chosen: Sequence[WalkStop], kept: Sequence[WalkStop]) -> tuple[WalkStop, ...]:
    codes = {stop.code for stop in kept}
    return tuple(stop for stop in chosen if stop.code not in codes)
