"""The slots of a history: how time is cut, what runs in each, where it is cleaned and where surfaces are read."""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta, timezone

import numpy as np
import numpy.typing as npt

from swabwright.plant.document import Plant
from swabwright.spread.bank import Occasion
from swabwright.spread.hours import days_between, hours_inside
from swabwright.spread.occasions import Timeline
from swabwright.spread.schedule import CleaningEnd, Schedule, schedule_of, zone_of

DAY = timedelta(days=1)
USUAL_HOURS, FINE_HOURS, COARSE_HOURS = 8, 2, 24
FINE_DAYS_BEFORE = 1
COARSE_BEYOND_DAYS = 14
FIRST_DATE = date(2000, 1, 1)
"""Slots are numbered in units of two hours from the start of this day, in the plant's own time."""


@dataclass(frozen=True)
class Clock:
    """Slots of one bank, in order.

    unit: number of each slot's start, in units of 2 h. hours: length. running: running hours by slot and
    clock, shape (slots, clocks). day: index of the slot's day in `days`, -1 when its product load is not kept.
    read: slot at which each occasion is read. cleanings: those that end in each slot. founding: slots
    between which niches that are younger than the first occasion are founded.
    """

    unit: npt.NDArray[np.int64]
    hours: npt.NDArray[np.float64]
    clocks: tuple[str, ...]
    running: npt.NDArray[np.float64]
    day: npt.NDArray[np.int32]
    days: tuple[date, ...]
    occasions: tuple[Occasion, ...]
    read: npt.NDArray[np.int32]
    cleanings: tuple[tuple[CleaningEnd, ...], ...]
    founding_hours: tuple[float, float]
    """First occasion used, and latest founding, in hours from the start of the first slot."""
    hours_before: float = 0.0
    """Length of the slot before the first one, where this clock continues another; else 0."""
    elapsed_hours: float = 0.0
    """Hours simulated before the first slot, where this clock continues another; else 0."""

    @property
    def start_hours(self) -> float:
        """Where the histories began, in hours from the first slot: 0, or less where this clock continues another."""
        return -self.elapsed_hours

    @property
    def slots(self) -> int:
        """Number of slots."""
        return int(self.hours.shape[0])


def clock_of(plant: Plant, timeline: Timeline, days_before: int) -> Clock:
    """The clock of a bank: from so many days before the earliest occasion or suspected day to the last occasion."""
    offset = timezone(timeline.visit[0].astimezone(zone_of(plant)).utcoffset() or timedelta(0))
    starts, hours = _cut(timeline, days_before, offset)
    ends = [start + timedelta(hours=float(length)) for start, length in zip(starts, hours, strict=True)]
    schedule = schedule_of(plant, days_between(starts[0].date() - DAY, ends[-1].date() + DAY))
    clocks = tuple(sorted(schedule.running))
    midnight = datetime.combine(FIRST_DATE, time(0), offset)
    return Clock(
        unit=np.array([(start - midnight) // timedelta(hours=FINE_HOURS) for start in starts], dtype=np.int64),
        hours=np.array(hours, dtype=np.float64),
        clocks=clocks,
        running=_running(schedule, clocks, starts, ends),
        day=_days(starts, timeline.product_days),
        days=timeline.product_days,
        occasions=timeline.occasions,
        read=np.array([_slot_at(occasion.at, starts) for occasion in timeline.occasions], dtype=np.int32),
        cleanings=tuple(_cleanings(schedule, start, end) for start, end in zip(starts, ends, strict=True)),
        founding_hours=_founding(timeline, starts[0]),
    )


def _cut(timeline: Timeline, days_before: int, offset: timezone) -> tuple[list[datetime], list[int]]:
    """Starts and lengths of the slots, day by day, each day from its own midnight."""
    visit_day = timeline.visit[0].astimezone(offset).date()
    moments = [occasion.at.astimezone(offset).date() for occasion in timeline.occasions]
    first = min([*moments, *timeline.implicated_days]) - days_before * DAY
    last = max([*moments, *timeline.implicated_days])
    starts: list[datetime] = []
    lengths: list[int] = []
    for day in days_between(first, last):
        length = _slot_hours((visit_day - day).days)
        for hour in range(0, 24, length):
            starts.append(datetime.combine(day, time(hour), offset))
            lengths.append(length)
    return starts, lengths


def _slot_hours(days_to_visit: int) -> int:
    if days_to_visit > COARSE_BEYOND_DAYS:
        return COARSE_HOURS
    return FINE_HOURS if days_to_visit <= FINE_DAYS_BEFORE else USUAL_HOURS


def _running(
    schedule: Schedule, clocks: tuple[str, ...], starts: list[datetime], ends: list[datetime]
) -> npt.NDArray[np.float64]:
    hours = [
        [hours_inside(schedule.running[clock], start, end) for clock in clocks]
        for start, end in zip(starts, ends, strict=True)
    ]
    return np.array(hours, dtype=np.float64).reshape(len(starts), len(clocks))


def _days(starts: list[datetime], kept: tuple[date, ...]) -> npt.NDArray[np.int32]:
    numbers = {day: number for number, day in enumerate(kept)}
    return np.array([numbers.get(start.date(), -1) for start in starts], dtype=np.int32)


def _slot_at(moment: datetime, starts: list[datetime]) -> int:
    """The slot that a moment ends in or lies in: one at the very start of a slot belongs to the slot before."""
    later = sum(start < moment for start in starts)
    return max(0, later - 1)


def _cleanings(schedule: Schedule, start: datetime, end: datetime) -> tuple[CleaningEnd, ...]:
    return tuple(cleaning for cleaning in schedule.cleanings if start < cleaning.at <= end)


def _founding(timeline: Timeline, start: datetime) -> tuple[float, float]:
    first = min(occasion.at for occasion in timeline.occasions)
    hours = [(moment - start).total_seconds() / 3600 for moment in (first, timeline.founded_by)]
    return hours[0], hours[1]
