"""When a site can be sampled during a visit, and which phase of its area's day that is."""

from datetime import datetime, timedelta

from swabwright.case.investigation import Visit
from swabwright.plant.document import Plant
from swabwright.plant.lines import Line
from swabwright.plant.sites import Site, Stop
from swabwright.plant.times import Period
from swabwright.spread.bank import Phase
from swabwright.spread.hours import Span, days_between, spans_of, without
from swabwright.spread.occasions import LAST_HOUR
from swabwright.spread.schedule import line_spans, zone_of

A_DAY = timedelta(days=1)


def visit_span(visit: Visit) -> Span:
    """From the first to the last moment of a visit."""
    return visit.limits.starts_at, visit.limits.ends_at


def minutes_of(span: Span) -> float:
    """Length of a span in minutes."""
    return (span[1] - span[0]).total_seconds() / 60.0


def middle_of(span: Span) -> datetime:
    """The moment half-way through a span."""
    return span[0] + (span[1] - span[0]) / 2


def standing_spans(line: Line, plant: Plant, visit: Visit) -> list[Span]:
    """When a line stands during a visit: agreed stops, breaks, and hours when it does not run."""
    zone = zone_of(plant)
    start, end = (moment.astimezone(zone).date() for moment in visit_span(visit))
    return without([visit_span(visit)], line_spans(line, tuple(days_between(start - A_DAY, end)), zone))


def stop_span(site: Site, stop: Stop, plant: Plant, visit: Visit) -> Span | None:
    """The longest stretch of a visit in which a site that needs its line to stand can be sampled; None if too short.

    A site without a line, or that needs no stop, has the whole visit: its machine alone is isolated.
    """
    line = next((line for line in plant.lines if line.id == site.line), None)
    # an isolated machine stands by itself; only its line's product need not wait
    if line is None or not stop.needs_line_stop:
        return visit_span(visit)
    longest = max(standing_spans(line, plant, visit), key=minutes_of, default=None)
    return longest if longest is not None and minutes_of(longest) >= stop.minutes_down else None


def running_span(site: Site, plant: Plant, visit: Visit) -> Span | None:
    """The working hours of a site's area on the day of a visit: its line, its room, else every line of the plant."""
    zone = zone_of(plant)
    day = visit.limits.starts_at.astimezone(zone).date()
    today = spans_of(_hours(site, plant), (day,), zone)
    return (today[0][0], max(end for _, end in today)) if today else None


def _hours(site: Site, plant: Plant) -> tuple[Period, ...]:
    own = tuple(period for line in plant.lines if line.id == site.line for period in line.runs)
    room = tuple(period for room in plant.rooms if room.id == site.room for period in room.in_use)
    # an area works when its line runs, else when its room is used, else when anything runs
    return own or room or tuple(period for line in plant.lines for period in line.runs)


def phase_at(moment: datetime, running: Span | None) -> Phase:
    """The phase of the day of an area's working hours at a moment; an idle area counts as before its start."""
    if running is None or moment < running[0]:
        return "before_start"
    return "last_hour" if moment >= running[1] - LAST_HOUR else "rulebook_hour"
