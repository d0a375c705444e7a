"""The moments at which the bank must be read: the phases of a visit, and every earlier sample."""

from datetime import datetime, timedelta

from swabwright.case.investigation import Investigation, Visit
from swabwright.detection.windows import LAST_HOUR, Span, phase_at, running_span, visit_span
from swabwright.plant.document import Plant
from swabwright.plant.figures import Figures
from swabwright.spread.bank import Occasion, Phase

PHASES: tuple[Phase, ...] = ("before_start", "rulebook_hour", "last_hour")


def visit_occasions(plant: Plant, visit: Visit, figures: Figures) -> tuple[Occasion, ...]:
    """The phases that a visit's hours touch, each at its moment inside the visit; at least one.

    Before start: as the working day of the plant's lines begins; rulebook hour: `rule.hours_after_line_start` later;
    last hour: an hour before the end; each clipped to the visit.
    """
    whole = visit_span(visit)
    running = _working_day(plant, visit)
    moments = _moments(running or whole, figures)
    touched = [phase for phase in PHASES if running is None or _touches(phase, running, whole)]
    kept = touched[:1] if running is None else touched
    return tuple(
        Occasion(f"{visit.id}, {phase.replace('_', ' ')}", min(max(moments[phase], whole.start), whole.end), phase)
        for phase in kept
    )


def earlier_occasions(investigation: Investigation, plant: Plant) -> tuple[Occasion, ...]:
    """One occasion for each moment at which earlier samples were taken, in order of time."""
    site_of = {site.code: site for site in plant.sites}
    visit = investigation.visits[0]
    found: dict[datetime, Occasion] = {}
    for result in investigation.earlier_results:
        running = _working_day(plant, _moved(visit, result.taken_at)) if result.site in site_of else None
        name = f"earlier sample, {result.taken_at.isoformat()}"
        found[result.taken_at] = Occasion(name, result.taken_at, phase_at(result.taken_at, running))
    return tuple(found[moment] for moment in sorted(found))


def occasion_index(occasions: tuple[Occasion, ...], visit: Visit, phase: Phase) -> int:
    """Index of the occasion of a visit that has this phase, else of the one nearest to it in the day."""
    inside = [index for index, one in enumerate(occasions) if one.name.startswith(f"{visit.id}, ")]
    if not inside:
        raise ValueError(f"the bank holds no occasion of visit '{visit.id}'")
    wanted = PHASES.index(phase)
    return min(inside, key=lambda index: (abs(PHASES.index(occasions[index].phase) - wanted), index))


def _moments(running: Span, figures: Figures) -> dict[Phase, datetime]:
    after = timedelta(hours=figures.number("rule.hours_after_line_start"))
    return {
        "before_start": running.start,
        "rulebook_hour": min(running.start + after, running.end - LAST_HOUR),
        "last_hour": running.end - LAST_HOUR,
    }


def _touches(phase: Phase, running: Span, whole: Span) -> bool:
    limits = {
        "before_start": whole.start < running.start,
        "rulebook_hour": whole.end > running.start and whole.start < running.end - LAST_HOUR,
        "last_hour": whole.end > running.end - LAST_HOUR,
    }
    return limits[phase]


def _working_day(plant: Plant, visit: Visit) -> Span | None:
    spans = [span for site in plant.sites if (span := running_span(site, plant, visit)) is not None]
    return Span(min(span.start for span in spans), max(span.end for span in spans)) if spans else None


def _moved(visit: Visit, moment: datetime) -> Visit:
    limits = visit.limits.model_copy(update={"starts_at": moment, "ends_at": moment})
    return visit.model_copy(update={"limits": limits})
