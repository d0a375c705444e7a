"""The slots of a history: how time is cut, what runs in each, where it is cleaned and where surfaces are read."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, timezone

import numpy as np
import numpy.typing as npt

from swabwright.plant.document import Plant
from swabwright.spread.bank import Occasion
from swabwright.spread.cutting import DAY, cut
from swabwright.spread.hours import days_between, hours_inside
from swabwright.spread.occasions import Timeline
from swabwright.spread.schedule import CleaningEnd, Schedule, schedule_of, zone_of

UNIT_HOURS = 2
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
    offset: timezone = UTC
    """Of the plant's wall clock at the first visit; slots begin at its even hours all through."""

    @property
    def start_hours(self) -> float:
        """Where the histories began, in hours from the first slot: 0, or less where this clock continues another."""
        return -self.elapsed_hours

    @property
    def slots(self) -> int:
        """Number of slots."""
        return int(self.hours.shape[0])

    def first_slot_after(self, moment: datetime) -> int:
        """The first slot that begins at or after a moment; -1 when that is no slot of this clock.

        Where this clock continues another, the moment may lie in the slot before its first one.
        """
        midnight = datetime.combine(FIRST_DATE, time(0), self.offset)
        units = (moment - midnight) / timedelta(hours=UNIT_HOURS)
        slot = int(np.searchsorted(self.unit, units, side="left"))
        too_early = slot == 0 and units <= self.unit[0] - self.hours_before / UNIT_HOURS
        return -1 if too_early or slot == self.slots else slot


def clock_of(plant: Plant, timeline: Timeline, days_before: int) -> Clock:
    """The clock of a bank: from so many days before the earliest occasion or suspected day to the last occasion."""
    offset = timezone(timeline.visit[0].astimezone(zone_of(plant)).utcoffset() or timedelta(0))
    slots = cut(timeline, days_before, offset)
    starts, hours = slots.starts, slots.hours
    ends = [start + timedelta(hours=float(length)) for start, length in zip(starts, hours, strict=True)]
    schedule = schedule_of(plant, days_between(starts[0].date() - DAY, ends[-1].date() + DAY))
    clocks = tuple(sorted(schedule.running))
    midnight = datetime.combine(FIRST_DATE, time(0), offset)
    return Clock(
        unit=np.array([(start - midnight) // timedelta(hours=UNIT_HOURS) for start in starts], dtype=np.int64),
        hours=np.array(hours, dtype=np.float64),
        clocks=clocks,
        running=_running(schedule, clocks, starts, ends),
        day=_days(starts, timeline.product_days),
        days=timeline.product_days,
        occasions=timeline.occasions,
        read=np.array([_slot_at(occasion.at, starts) for occasion in timeline.occasions], dtype=np.int32),
        cleanings=tuple(_cleanings(schedule, start, end) for start, end in zip(starts, ends, strict=True)),
        founding_hours=_founding(timeline, starts[0]),
        offset=offset,
    )


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
