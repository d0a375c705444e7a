"""Wall-clock hours of a plant as spans of real time, and how much of a span they fill."""

from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from swabwright.plant.times import Period

Span = tuple[datetime, datetime]
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def days_between(first: date, last: date) -> Iterator[date]:
    """Every day from the first to the last, both included."""
    return (first + timedelta(days=number) for number in range((last - first).days + 1))


def spans_of(periods: Iterable[Period], days: Iterable[date], zone: ZoneInfo) -> list[Span]:
    """The hours of these periods on these days as joined spans; past midnight if they say so."""
    periods = tuple(periods)
    spans = [_span(period, day, zone) for day in days for period in periods if WEEKDAYS[day.weekday()] in period.days]
    return joined(spans)


def _span(period: Period, day: date, zone: ZoneInfo) -> Span:
    over_midnight = timedelta(days=period.ends_at <= period.starts_at)
    start = datetime.combine(day, period.starts_at, zone)
    return start, datetime.combine(day + over_midnight, period.ends_at, zone)


def joined(spans: Iterable[Span]) -> list[Span]:
    """Spans in order, those that touch or overlap made one."""
    whole: list[Span] = []
    for start, end in sorted(spans):
        if whole and start <= whole[-1][1]:
            whole[-1] = (whole[-1][0], max(whole[-1][1], end))
        else:
            whole.append((start, end))
    return whole


def without(spans: list[Span], gaps: Iterable[Span]) -> list[Span]:
    """The spans less the gaps (breaks, agreed stops)."""
    for first, last in gaps:
        spans = [piece for start, end in spans for piece in ((start, min(end, first)), (max(start, last), end))]
        spans = [(start, end) for start, end in spans if start < end]
    return spans


def hours_inside(spans: list[Span], start: datetime, end: datetime) -> float:
    """Hours of the span from start to end that the spans fill."""
    overlaps = (min(end, last) - max(start, first) for first, last in spans)
    return sum(max(0.0, overlap.total_seconds()) for overlap in overlaps) / 3600.0
