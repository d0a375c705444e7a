"""The moments at which surfaces are read: a visit's phases, and the dates of earlier results."""

from collections.abc import Iterable, Sequence
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
    """Hours of the visit; of several, those of the first."""
    implicated_days: tuple[date, ...]
    product_days: tuple[date, ...]
    """Days for which the load in the product is kept: suspected days and those of tests of product or material."""
    founded_by: datetime
    """The latest founding: the start of the suspected days, else the day of the signal."""
    later_visits: tuple[Span, ...] = ()
    """Hours of the visits after the first, in order."""
    material_days: tuple[date, ...] = ()
    """Of the product days, those that the histories must reach like suspected days."""
    action_days: tuple[date, ...] = ()
    """Days cut into short slots because something is done on them."""


@dataclass(frozen=True)
class Besides:
    """What a bank must hold besides its visits: days of tests of product or material, and moments of actions."""

    material_days: tuple[date, ...] = ()
    actions: tuple[datetime, ...] = ()


NOTHING_BESIDES = Besides()


def timeline_of(investigation: Investigation, visit: Visit, plant: Plant, hours_after_start: float) -> Timeline:
    """The timeline of one visit; `hours_after_start` is the rulebook's hour after the start of production."""
    return timeline_of_visits(investigation, (visit,), plant, hours_after_start)


def timeline_of_visits(
    investigation: Investigation,
    visits: Sequence[Visit],
    plant: Plant,
    hours_after_start: float,
    besides: Besides = NOTHING_BESIDES,
) -> Timeline:
    """The timeline of a bank that is read at several visits; visits without an id of their own are refused.

    Its occasions are the phases of all visits in order of time, then the moments of earlier results, the oldest first.
    """
    visits = _in_order(visits)
    suspected = sorted({day for span in investigation.implicated for day in _days(span.first_day, span.last_day)})
    tested = {test.made_on for test in investigation.product_tests}
    start = suspected[0] if suspected else investigation.signal_on
    phases = [occasion for visit in visits for occasion in visit_occasions(visit, plant, hours_after_start)]
    first, *later = [(visit.limits.starts_at, visit.limits.ends_at) for visit in visits]
    zone = zone_of(plant)
    return Timeline(
        occasions=(*phases, *earlier_occasions(investigation.earlier_results)),
        visit=first,
        implicated_days=tuple(suspected),
        product_days=tuple(sorted({*tested, *suspected, *besides.material_days})),
        founded_by=datetime.combine(start, datetime.min.time(), zone),
        later_visits=tuple(later),
        material_days=tuple(sorted(set(besides.material_days))),
        action_days=tuple(sorted({moment.astimezone(zone).date() for moment in besides.actions})),
    )


def _in_order(visits: Sequence[Visit]) -> list[Visit]:
    ordered = sorted(visits, key=lambda visit: visit.limits.starts_at)
    if not ordered:
        raise SwabwrightError("a bank must be read at a visit; name at least one")
    for visit in ordered:
        if sum(visit.id == other.id for other in ordered) > 1:
            raise SwabwrightError(f"two visits are called '{visit.id}'; give each visit an id of its own")
    return ordered


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
