"""How time is cut into slots: short near visits and on days of actions, long where little is read from them."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta, timezone

from swabwright.spread.hours import days_between
from swabwright.spread.occasions import Timeline

DAY = timedelta(days=1)
USUAL_HOURS, FINE_HOURS, COARSE_HOURS = 8, 2, 24
FINE_DAYS_BEFORE = 1
COARSE_BEYOND_DAYS = 14
Days = tuple[date, date]
"""First and last day."""


@dataclass(frozen=True)
class Cut:
    """Starts of all slots, in order, and their lengths in hours."""

    starts: list[datetime]
    hours: list[int]


def cut(timeline: Timeline, days_before: int, offset: timezone) -> Cut:
    """The slots of a timeline, day by day, each day from its own midnight.

    They begin so many days before the first day on which anything is read or suspected, and end with the last one.
    A slot lasts 2 h from the day before a visit to the visit's last day, and on days of actions; 24 h on a day from
    which the next visit is more than 14 days off; 8 h otherwise. So a further visit costs some 70 slots and one for
    each day beyond a fortnight. The slots up to the end of the first visit are those of a bank of that visit alone,
    unless an action lies among them or an earlier test of material makes the histories begin sooner.
    """
    read = [*_days_of((occasion.at for occasion in timeline.occasions), offset), *timeline.implicated_days]
    wanted = [*read, *timeline.material_days]
    visits = _visits(timeline, max(read), offset)
    starts, hours = [], []
    for day in days_between(min(wanted) - days_before * DAY, max(wanted)):
        length = FINE_HOURS if day in timeline.action_days else _slot_hours(day, visits)
        for hour in range(0, 24, length):
            starts.append(datetime.combine(day, time(hour), offset))
            hours.append(length)
    return Cut(starts, hours)


def _visits(timeline: Timeline, last_read: date, offset: timezone) -> list[Days]:
    """Days of all visits in order; the last one goes on to the last day that is read or suspected."""
    spans = [timeline.visit, *timeline.later_visits]
    firsts, lasts = (list(_days_of(moments, offset)) for moments in zip(*spans, strict=True))
    return list(zip(firsts, [*lasts[:-1], max(firsts[-1], last_read)], strict=True))


def _days_of(moments: Iterable[datetime], offset: timezone) -> Iterable[date]:
    return (moment.astimezone(offset).date() for moment in moments)


def _slot_hours(day: date, visits: list[Days]) -> int:
    ahead = [(first - day).days for first, last in visits if day <= last]
    if not ahead:
        return USUAL_HOURS
    if min(ahead) > COARSE_BEYOND_DAYS:
        return COARSE_HOURS
    return FINE_HOURS if min(ahead) <= FINE_DAYS_BEFORE else USUAL_HOURS
