"""The moments at which surfaces are read: a visit's phases, and the dates of earlier results."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from swabwright.case.investigation import EarlierResult, Investigation, Visit
from swabwright.errors import SwabwrightError
from swabwright.plant.document import Plant
from swabwright.spread.bank import Occasion, Phase
from swabwright.spread.hours import Span
from swabwright.spread.schedule import Schedule, schedule_of, zone_of

PHASES: tuple[Phase, ...] = ("before_start", "rulebook_hour", "last_hour")
LAST_HOUR = timedelta(hours=1)
DAYS_LOOKED_AT = 2
"""A visit is placed against the running hours of its own days and those next to them."""


@dataclass(frozen=True)
class Timeline:
    """What the clock of a bank follows from: occasions, visit hours, suspected days, and how old a niche may be."""

    occasions: tuple[Occasion, ...]
    visit: Span
    implicated_days: tuple[date, ...]
    product_days: tuple[date, ...]
    """Days for which the load in the product is kept: suspected days and those of product tests."""
    founded_by: datetime
    """The latest founding: the start of the suspected days, else the day of the signal."""


def timeline_of(investigation: Investigation, visit: Visit, plant: Plant, hours_after_start: float) -> Timeline:
    """The timeline of one visit; `hours_after_start` is the rulebook's hour after the start of production."""
    suspected = sorted({day for span in investigation.implicated for day in _days(span.first_day, span.last_day)})
    tested = {test.made_on for test in investigation.product_tests}
    start = suspected[0] if suspected else investigation.signal_on
    earlier = earlier_occasions(investigation.earlier_results)
    return Timeline(
        occasions=visit_occasions(visit, plant, hours_after_start) + earlier,
        visit=(visit.limits.starts_at, visit.limits.ends_at),
        implicated_days=tuple(suspected),
        product_days=tuple(sorted(tested | set(suspected))),
        founded_by=datetime.combine(start, datetime.min.time(), zone_of(plant)),
    )


def _days(first: date, last: date) -> list[date]:
    return [first + timedelta(days=number) for number in range((last - first).days + 1)]


def visit_occasions(visit: Visit, plant: Plant, hours_after_start: float) -> tuple[Occasion, ...]:
    """Before start, at the rulebook's hour and in the last hour of production on the day of a visit.

    Only the phases that the visit's hours touch are kept; at least one always is.
    """
    start, end = visit.limits.starts_at, visit.limits.ends_at
    production = _production(schedule_of(plant, _near(start, end, plant)), start, end)
    moments: dict[Phase, datetime] = {
        "before_start": min(production[0], end),
        "rulebook_hour": production[0] + timedelta(hours=hours_after_start),
        "last_hour": production[1],
    }
    kept = [phase for phase in PHASES if _touches(phase, production, (start, end))]
    return tuple(
        Occasion(f"{visit.id}: {phase.replace('_', ' ')}", _within(moments[phase], start, end), phase)
        for phase in kept or ["rulebook_hour"]
    )


def _within(moment: datetime, start: datetime, end: datetime) -> datetime:
    return max(start, min(moment, end))


def _touches(phase: Phase, production: Span, visit: Span) -> bool:
    """Whether a visit's hours reach into a phase of the day."""
    first, last = production
    if phase == "before_start":
        return visit[0] < first
    if phase == "last_hour":
        return visit[1] > last - LAST_HOUR
    return visit[1] > first and visit[0] < last - LAST_HOUR


def _near(start: datetime, end: datetime, plant: Plant) -> list[date]:
    zone = zone_of(plant)
    first = start.astimezone(zone).date() - timedelta(days=DAYS_LOOKED_AT)
    return _days(first, end.astimezone(zone).date() + timedelta(days=DAYS_LOOKED_AT))


def _production(schedule: Schedule, start: datetime, end: datetime) -> Span:
    """First start to last stop of the lines on the day that overlaps the visit, else the nearest day."""
    spans = [span for clock, all_of in schedule.running.items() if clock.startswith("line:") for span in all_of]
    if not spans:
        return start, end
    day = min(spans, key=lambda span: _apart(span, start, end))[0].date()
    that_day = [span for span in spans if span[0].date() == day]
    return min(span[0] for span in that_day), max(span[1] for span in that_day)


def _apart(span: Span, start: datetime, end: datetime) -> timedelta:
    return max(span[0] - end, start - span[1], timedelta(0))


def earlier_occasions(results: Iterable[EarlierResult]) -> tuple[Occasion, ...]:
    """One occasion for each moment at which an earlier sample was taken, the oldest first."""
    moments = sorted({result.taken_at for result in results})
    return tuple(Occasion(f"earlier: {at.isoformat()}", at, "rulebook_hour") for at in moments)


def occasion_of(occasions: tuple[Occasion, ...], at: datetime) -> int:
    """The occasion of an earlier result taken at this moment; refused when there is none."""
    for number, occasion in enumerate(occasions):
        if occasion.at == at:
            return number
    raise SwabwrightError(f"no occasion at {at.isoformat()}; the earlier result is not part of this timeline")
