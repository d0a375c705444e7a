"""The clock of a walk: when each stop is reached, what is changed before it, what is waited for."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.planning.clock_windows import Window, minutes_needed
from swabwright.planning.walk_stops import WalkStop
from swabwright.plant.figures import Figures

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]
TOO_LATE = inf


@dataclass(frozen=True)
class Timed:
    """One stop on the clock, in minutes from the start of the visit."""

    stop: int
    """Index of the stop as it was given to the clock."""
    arrives: float
    waits: float
    """Minutes waited before `arrives`."""
    leaves: float


class Clock:
    """Walks any order of some stops through the day; made once per set of stops, asked for many orders."""

    def __init__(
        self,
        stops: Sequence[WalkStop],
        legs: FloatArray,
        changes: FloatArray,
        windows: Sequence[tuple[Window, ...] | None],
    ) -> None:
        """legs, changes: minutes from spot to spot, shape (n + 1, n + 1), the base at 0; windows: one per stop."""
        self._between = np.ascontiguousarray(legs + changes)
        self._minutes = np.array([stop.minutes for stop in stops])
        self._windows = list(windows)
        self._needed = [minutes_needed(stop) for stop in stops]
        self._starts, self._latest = _window_table(windows, self._needed)

    def timed(self, order: Sequence[int], credits: Sequence[float] = ()) -> list[Timed]:
        """The stops in this order on the clock; one that fits no window any more arrives at `inf` and is passed by.

        credits: minutes saved on each leg because a change is done at a door that asks for it anyway.
        """
        found, now, here = [], 0.0, 0
        for place, stop in enumerate(order):
            ready = now + float(self._between[here, stop + 1]) - (credits[place] if credits else 0.0)
            arrives = self._opening(stop, ready)
            if arrives == TOO_LATE:
                found.append(Timed(stop, arrives, 0.0, TOO_LATE))
                continue
            now = arrives + float(self._minutes[stop])
            found.append(Timed(stop, arrives, arrives - ready, now))
            here = stop + 1
        return found

    def ends(self, order: Sequence[int]) -> float:
        """Minutes from the start of the visit to the end of the last stop; inf when a stop fits no window."""
        late, end = self.score(order)
        return TOO_LATE if late else end

    def score(self, order: Sequence[int]) -> tuple[int, float]:
        """How many stops come too late for their windows, and when the last of the others ends; lower is better."""
        late, end = _run(np.asarray(order), self._between, self._minutes, self._starts, self._latest)
        return int(late), float(end)

    def waits(self, order: Sequence[int]) -> bool:
        """Whether anything is waited for, or comes too late, in this order."""
        return any(one.waits > 0 or one.arrives == TOO_LATE for one in self.timed(order))

    def _opening(self, stop: int, ready: float) -> float:
        windows = self._windows[stop]
        if windows is None:
            return ready
        needed = self._needed[stop]
        fits = (max(ready, window.opens) for window in windows if max(ready, window.opens) + needed <= window.closes)
        return next(fits, TOO_LATE)


def _window_table(
    windows: Sequence[tuple[Window, ...] | None], needed: Sequence[float]
) -> tuple[FloatArray, FloatArray]:
    """First and last moment at which each stop may begin, by window, shape (n, most windows); any time is (0, inf)."""
    most = max((len(of) for of in windows if of), default=1)
    opens, latest = np.full((len(windows), most), np.inf), np.full((len(windows), most), -np.inf)
    for stop, of in enumerate(windows):
        if of is None:
            opens[stop, 0], latest[stop, 0] = 0.0, np.inf
        for place, window in enumerate(of or ()):
            opens[stop, place], latest[stop, place] = window.opens, window.closes - needed[stop]
    return opens, latest


@njit(cache=True, nogil=True)
def _run(
    order: IntArray, between: FloatArray, minutes: FloatArray, opens: FloatArray, latest: FloatArray
) -> tuple[int, float]:
    now, here, late = 0.0, 0, 0
    for stop in order:
        ready = now + between[here, stop + 1]
        begins = np.inf
        for place in range(opens.shape[1]):
            begin = max(ready, opens[stop, place])
            if begin <= latest[stop, place] and begin < begins:
                begins = begin
        if begins == np.inf:
            late += 1
            continue
        now = begins + minutes[stop]
        here = stop + 1
    return late, now


def change_minutes(stops: Sequence[WalkStop], figures: Figures) -> FloatArray:
    """Minutes of changes and set-up between any two stops, shape (n + 1, n + 1), the clean base at 0.

    Nothing within a room visit; gloves and sleeves and the kit laid out anew in the next room; a full change in their
    place where the hygiene class rises, and before the first stop.
    """
    gloves, full = figures.number("rule.minutes_glove_and_sleeve_change"), figures.number("rule.minutes_full_change")
    set_up = figures.number("rule.minutes_room_set_up")
    keys = [stop.key for stop in stops]
    visits = {visit: number for number, visit in enumerate(dict.fromkeys((key.group, key.room) for key in keys))}
    visit = np.array([visits[key.group, key.room] for key in keys])
    hygiene_class = np.array([key.hygiene_class for key in keys])
    minutes = np.full((len(stops) + 1, len(stops) + 1), full + set_up)
    between = minutes[1:, 1:]
    between[hygiene_class[:, None] == hygiene_class[None, :]] = gloves + set_up
    between[visit[:, None] == visit[None, :]] = 0.0
    return minutes
