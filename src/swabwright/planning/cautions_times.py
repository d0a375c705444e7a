"""When a line last started and was last cleaned, seen from a moment of the walk."""

from collections.abc import Iterable
from datetime import date, datetime, timedelta

from swabwright.plant.document import Plant
from swabwright.plant.lines import Line
from swabwright.plant.times import Period
from swabwright.spread.hours import Span, days_between, spans_of
from swabwright.spread.schedule import zone_of

DAYS_LOOKED_BACK = 14


def local(moment: datetime, plant: Plant) -> datetime:
    """A moment on the plant's own clock."""
    return moment.astimezone(zone_of(plant))


def last_before(periods: Iterable[Period], plant: Plant, moment: datetime) -> Span | None:
    """The last stretch of these periods that began before a moment, within two weeks; it may still go on."""
    day = local(moment, plant).date()
    days = days_between(day - timedelta(days=DAYS_LOOKED_BACK), day)
    begun = [span for span in spans_of(periods, days, zone_of(plant)) if span[0] <= moment]
    return begun[-1] if begun else None


def last_full_clean(line: Line, plant: Plant, moment: datetime) -> date | None:
    """The day on which the last full clean of a line before a moment ended; None when none is drawn."""
    periods = [
        period
        for cleaning in plant.cleanings
        if cleaning.kind == "full" and line.id in cleaning.lines
        for period in cleaning.when
    ]
    span = last_before(periods, plant, moment)
    return local(span[1], plant).date() if span else None
