"""When a line stands or a room is in use during a visit, and which phase of the day that is."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from swabwright.case.investigation import Visit
from swabwright.plant.document import Plant
from swabwright.plant.lines import Line
from swabwright.plant.sites import Site, Stop
from swabwright.plant.times import Period
from swabwright.spread.bank import Phase

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
LAST_HOUR = timedelta(hours=1)


@dataclass(frozen=True)
class Span:
    """A stretch of time with offset, first to last moment."""

    start: datetime
    end: datetime

    @property
    def minutes(self) -> float:
        """Length in minutes."""
        return (self.end - self.start).total_seconds() / 60.0

    @property
    def middle(self) -> datetime:
        """The moment half-way."""
        return self.start + (self.end - self.start) / 2

    def within(self, other: "Span") -> "Span | None":
        """The part that both share, None when they do not meet."""
        start, end = max(self.start, other.start), min(self.end, other.end)
        return Span(start, end) if start < end else None


def visit_span(visit: Visit) -> Span:
    """From the first to the last moment of a visit."""
    return Span(visit.limits.starts_at, visit.limits.ends_at)


def spans_on(periods: Iterable[Period], around: date, zone: ZoneInfo) -> list[Span]:
    """The stretches of these periods that begin on a date or the day before it, in order of their start."""
    days = (around - timedelta(days=1), around)
    spans = [_span(period, day, zone) for period in periods for day in days if WEEKDAYS[day.weekday()] in period.days]
    return sorted(spans, key=lambda span: span.start)


def _span(period: Period, day: date, zone: ZoneInfo) -> Span:
    start = datetime.combine(day, period.starts_at, zone)
    later = day + timedelta(days=1) if period.ends_at <= period.starts_at else day
    return Span(start, datetime.combine(later, period.ends_at, zone))


def standing_spans(line: Line, plant: Plant, visit: Visit) -> list[Span]:
    """When a line stands during a visit: agreed stops, breaks, and hours when it does not run."""
    whole, zone = visit_span(visit), ZoneInfo(plant.timezone)
    day = whole.start.astimezone(zone).date()
    stops = [Span(stop.starts_at, stop.ends_at) for stop in line.agreed_stops]
    gaps, moment = [], whole.start
    for run in spans_on(line.runs, day, zone):
        gaps.append(Span(moment, max(moment, run.start)))
        moment = max(moment, run.end)
    gaps.append(Span(moment, max(moment, whole.end)))
    shared = (span.within(whole) for span in [*stops, *spans_on(line.breaks, day, zone), *gaps])
    return [span for span in shared if span is not None]


def stop_span(site: Site, stop: Stop, plant: Plant, visit: Visit) -> Span | None:
    """The longest stretch of a visit in which a site that needs its line to stand can be sampled; None if too short.

    A site without a line, or that needs no stop, has the whole visit: its machine alone is isolated.
    """
    line = next((line for line in plant.lines if line.id == site.line), None)
    if line is None or not stop.needs_line_stop:
        return visit_span(visit)
    longest = max(standing_spans(line, plant, visit), key=lambda span: span.minutes, default=None)
    return longest if longest is not None and longest.minutes >= stop.minutes_down else None


def running_span(site: Site, plant: Plant, visit: Visit) -> Span | None:
    """The working hours of a site's area on the day of a visit: its line, its room, else every line of the plant."""
    zone = ZoneInfo(plant.timezone)
    day = visit.limits.starts_at.astimezone(zone).date()
    today = [span for span in spans_on(_hours(site, plant), day, zone) if span.start.date() == day]
    return Span(today[0].start, max(span.end for span in today)) if today else None


def _hours(site: Site, plant: Plant) -> tuple[Period, ...]:
    own = tuple(period for line in plant.lines if line.id == site.line for period in line.runs)
    room = tuple(period for room in plant.rooms if room.id == site.room for period in room.in_use)
    return own or room or tuple(period for line in plant.lines for period in line.runs)


def phase_at(moment: datetime, running: Span | None) -> Phase:
    """The phase of the day of an area's working hours at a moment; an idle area counts as before its start."""
    if running is None or moment < running.start:
        return "before_start"
    return "last_hour" if moment >= running.end - LAST_HOUR else "rulebook_hour"
