"""The walk of one team: order, clock, legs and waits of the chosen stops."""

from collections.abc import Callable, Sequence
from copy import copy
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from swabwright.case.investigation import Visit
from swabwright.case.plan import Leg, Wait, Walk
from swabwright.detection.choices import minutes_per_sample
from swabwright.detection.windows import minutes_of, visit_span
from swabwright.planning.clock import TOO_LATE, Clock, Timed, change_minutes
from swabwright.planning.clock_order import meet_windows
from swabwright.planning.clock_windows import StopMissing, line_of, line_windows, no_stop_sentence, windows_for
from swabwright.planning.clock_words import barrier_words, changes_before, wait_words
from swabwright.planning.walk_bound import lower_bound
from swabwright.planning.walk_breaks import Windows
from swabwright.planning.walk_controls import NO_CONTROLS, Shares, with_controls
from swabwright.planning.walk_legs import AT_BASE, Legs, Spot, Way
from swabwright.planning.walk_order import best_order
from swabwright.planning.walk_stops import WalkStop
from swabwright.plant.figures import Figures
from swabwright.plant.space import FloorSpace

Restate = Callable[[Sequence[WalkStop]], list[WalkStop]]
FloatArray = npt.NDArray[np.float64]

JUDGEMENT_DEVICE = "SP"
"""Containers left to judgement are reckoned at the minutes of a sponge."""


@dataclass(frozen=True)
class TimedStop:
    """One stop in its place on the walk."""

    stop: WalkStop
    order: int
    arrive_at: datetime
    wait_minutes: float
    change_first: tuple[str, ...]
    """What is changed before it, in words."""


@dataclass(frozen=True)
class QuickStop:
    """One stop of a walk judged quickly: minutes waited before it, and when it is left.

    A stop that comes too late for its line is left at inf, and passed by.
    """

    stop: WalkStop
    waits: float
    leaves: float


class WalkPlanner:
    """Plans the walk of one team; made once per visit, asked for many sets of stops."""

    def __init__(self, space: FloorSpace, figures: Figures, visit: Visit, shares: Shares = NO_CONTROLS) -> None:
        """shares: how many blanks and duplicates to put among the stops, and containers to keep minutes free for."""
        self._legs = Legs(space, figures)
        self._plant, self._figures, self._visit, self._shares = space.plant, figures, visit, shares
        self.windows: Windows = line_windows(space.plant, visit)
        self.restated: Restate = list
        """The stops with the minutes that they take in this very set: what opens a machine may be shared."""

    def going_by(self, windows: Windows) -> "WalkPlanner":
        """The same team when it goes by these windows only; they are part of those in which the lines stand."""
        other = copy(self)
        other.windows = windows
        return other

    def sharing(self, restated: Restate) -> "WalkPlanner":
        """The same team where what a stop takes depends on the other stops."""
        other = copy(self)
        other.restated = restated
        return other

    @property
    def minutes_available(self) -> float:
        """Minutes of the visit, less those kept free for the containers left to judgement."""
        kept_free = self._shares.judgement * self._device_minutes(JUDGEMENT_DEVICE)
        return minutes_of(visit_span(self._visit)) - kept_free

    def minutes(self, stops: Sequence[WalkStop]) -> float:
        """Minutes from the start of the visit to the end of the last container, waits left out; quick."""
        if not stops:
            return 0.0
        legs = self._leg_minutes(stops)
        order, _ = best_order([stop.key for stop in stops], legs)
        walked = Clock(stops, legs, change_minutes(stops, self._figures), [None] * len(stops)).ends(order)
        return walked + self.control_minutes([stops[n] for n in order])

    def control_minutes(self, ordered: Sequence[WalkStop]) -> float:
        """Minutes that blanks and duplicates add to a walk through these stops."""
        series = with_controls(ordered, self._shares, self._device_minutes) if ordered else []
        return sum(stop.minutes for stop in series if stop.kind != "surface")

    def closing_minutes(self, stops: Sequence[WalkStop]) -> float:
        """Minutes that controls take after the last surface sample."""
        return self.control_minutes(stops) - self._held_back(stops)

    def _held_back(self, stops: Sequence[WalkStop]) -> float:
        """Minutes by which controls can hold back a stop: those of all controls before the last surface sample."""
        series = with_controls(stops, self._shares, self._device_minutes) if stops else []
        last = max((place for place, stop in enumerate(series) if stop.kind == "surface"), default=0)
        return sum(stop.minutes for stop in series[:last] if stop.kind != "surface")

    def quickly(self, stops: Sequence[WalkStop]) -> list[QuickStop]:
        """The stops in order with their waits, without ways or bound; for judging many sets of stops.

        All controls count as if they came first, so that no stop is reached later than it says here.
        """
        if not stops:
            return []
        legs, keys = self._leg_minutes(stops), [stop.key for stop in stops]
        clock = self._clock(stops, legs, self._held_back(stops))
        order = meet_windows(best_order(keys, legs)[0], keys, clock)
        return [QuickStop(stops[one.stop], one.waits, one.leaves) for one in clock.timed(order)]

    def walk(self, stops: Sequence[WalkStop]) -> tuple[tuple[TimedStop, ...], Walk]:
        """The walk through all stops, controls among them; a site whose line never stands long enough is refused."""
        legs = self._leg_minutes(stops)
        order, excess = self._order_in_time(stops, legs)
        series = with_controls([stops[n] for n in order], self._shares, self._device_minutes)
        ways = self._ways(series)
        timed = self._clock(series, self._leg_minutes(series)).timed(range(len(series)), self._credits(series, ways))
        self._refuse_too_late(series, timed)
        return self._timed_stops(series, timed, ways), self._walk(series, timed, ways, excess)

    def no_stop_words(self, stop: WalkStop) -> str:
        """Which stop has to be agreed with the plant before a site can be sampled."""
        return no_stop_sentence(stop, self._plant, self._visit)

    def _order_in_time(self, stops: Sequence[WalkStop], legs: FloatArray) -> tuple[list[int], float]:
        """The order that meets the windows, and the excess of its walk over the proved bound."""
        keys = [stop.key for stop in stops]
        order = meet_windows(best_order(keys, legs)[0], keys, self._clock(stops, legs, self._held_back(stops)))
        return order, _excess(_along(order, legs), lower_bound(keys, legs))

    def _clock(self, stops: Sequence[WalkStop], legs: FloatArray, held_back: float = 0.0) -> Clock:
        windows = [windows_for(stop, self._plant, self.windows) for stop in stops]
        changes = change_minutes(stops, self._figures)
        changes[0, :] += held_back
        return Clock(stops, legs, changes, windows)

    def _device_minutes(self, device: str) -> float:
        return minutes_per_sample(device, self._visit.limits.people_per_team, self._figures)

    def _leg_minutes(self, stops: Sequence[WalkStop]) -> FloatArray:
        classes = [AT_BASE, *(stop.room.hygiene_class for stop in stops)]
        return self._legs.minutes([self._legs.base, *map(_spot, stops)], classes)

    def _ways(self, ordered: Sequence[WalkStop]) -> list[Way]:
        spots = [self._legs.base, *map(_spot, ordered)]
        classes = [AT_BASE, *(stop.room.hygiene_class for stop in ordered)]
        return [self._legs.way(a, b, c) for a, b, c in zip(spots, spots[1:], classes, strict=False)]

    def _credits(self, ordered: Sequence[WalkStop], ways: Sequence[Way]) -> list[float]:
        """Minutes saved per leg: where the class rises, the full change is done at the door that asks for a change."""
        full = self._figures.number("rule.minutes_full_change")
        classes = [AT_BASE, *(stop.room.hygiene_class for stop in ordered)]
        asked = [max((self._legs.barrier_minutes(door) for door in way.doors), default=0.0) for way in ways]
        return [
            min(full, minutes) if before != after else 0.0
            for before, after, minutes in zip(classes, classes[1:], asked, strict=False)
        ]

    def _refuse_too_late(self, series: Sequence[WalkStop], timed: Sequence[Timed]) -> None:
        late = next((series[one.stop] for one in timed if one.arrives == TOO_LATE), None)
        if late is not None:
            raise StopMissing(late, self.no_stop_words(late))

    def _timed_stops(
        self, series: Sequence[WalkStop], timed: Sequence[Timed], ways: Sequence[Way]
    ) -> tuple[TimedStop, ...]:
        before = [None, *series]
        return tuple(
            TimedStop(stop, n + 1, self._at(one.arrives), one.waits, changes_before(before[n], stop, ways[n]))
            for n, (stop, one) in enumerate(zip(series, timed, strict=True))
        )

    def _walk(self, series: Sequence[WalkStop], timed: Sequence[Timed], ways: Sequence[Way], excess: float) -> Walk:
        return Walk(
            metres=round(sum(way.metres for way in ways), 2),
            minutes=round(timed[-1].leaves, 2),
            excess_over_bound=excess,
            starts_at=self._visit.limits.starts_at,
            ends_at=self._at(timed[-1].leaves),
            legs=tuple(_leg(n, way) for n, way in enumerate(ways)),
            waits=tuple(self._wait(n, series[n], one.waits) for n, one in enumerate(timed) if one.waits > 0),
        )

    def _wait(self, place: int, stop: WalkStop, minutes: float) -> Wait:
        reason = wait_words(stop, line_of(stop, self._plant))
        return Wait(before_order=place + 1, minutes=round(minutes, 2), reason=reason)

    def _at(self, minutes: float) -> datetime:
        return self._visit.limits.starts_at + timedelta(seconds=round(minutes * 60))


def walk_of(
    stops: Sequence[WalkStop], space: FloorSpace, figures: Figures, visit: Visit, shares: Shares = NO_CONTROLS
) -> tuple[tuple[TimedStop, ...], Walk]:
    """The stops in order of work with their controls, timed, and the walk through them."""
    return WalkPlanner(space, figures, visit, shares).walk(stops)


def _leg(place: int, way: Way) -> Leg:
    barriers = tuple(barrier_words(door) for door in way.doors if door.barrier != "none")
    return Leg(from_order=place, to_order=place + 1, path=way.path, metres=round(way.metres, 2), barriers=barriers)


def _spot(stop: WalkStop) -> Spot:
    return (stop.at.site.position, stop.room.id)


def _along(order: Sequence[int], legs: FloatArray) -> float:
    spots = [0, *(stop + 1 for stop in order)]
    return float(sum(legs[a, b] for a, b in pairwise(spots)))


def _excess(spent: float, bound: float) -> float:
    """How much more than the bound was walked, as a share; rounding noise is none."""
    return round(max(spent / bound - 1.0, 0.0), 6) if bound > 0 else 0.0
