"""Planning one visit: from the documents of a case to a plan with its proof and its pocket table."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from swabwright.case.folder import Case
from swabwright.case.investigation import Visit
from swabwright.case.plan import Plan
from swabwright.case.words import counted
from swabwright.errors import LimitsClash
from swabwright.planning.walk import WalkPlanner
from swabwright.planning.walk_controls import Shares, shares_of
from swabwright.work.chosen import choose_samples
from swabwright.work.compose import compose
from swabwright.work.judged import judge
from swabwright.work.opened import open_visit
from swabwright.work.pocket import pocket_bytes
from swabwright.work.samples_problem import samples_problem
from swabwright.work.simulated import lacks_histories, simulate

SECONDS = 60.0


@dataclass(frozen=True)
class PlannedVisit:
    """A draft plan, and the bytes of the pocket table whose hash stands in it."""

    plan: Plan
    pocket: bytes


def plan_case(case: Case, visit: Visit, *, cache_folder: Path | None, say: Callable[[str], None]) -> PlannedVisit:
    """A draft plan for a visit; the same documents and seed give the same plan on any machine.

    cache_folder: where response banks are kept between runs, None for nowhere. say: told each step as it begins; it may
    raise to stop the run, as nothing is written here. What cannot be done is refused in a sentence (SwabwrightError).
    """
    say("Reading the floor, its contacts and the clock")
    opened = open_visit(case, visit)
    shares = shares_of(visit.limits, case.figures)
    planner = WalkPlanner(opened.space, case.figures, visit, shares)
    _require_time(visit, shares, planner.minutes_available)
    chooses = simulate(opened, "A", cache_folder, say)
    reports = simulate(opened, "B", cache_folder, say, more=lacks_histories(chooses))
    say("Choosing samples and the walk through them")
    problem = samples_problem(opened, chooses, shares, planner.minutes_available)
    chosen = choose_samples(opened, problem, chooses.items, planner)
    say("Proving how far the choice can be from the best")
    judged = judge(chosen, reports, round(case.figures.number("planning.curve_step")))
    say("Weighing the figures that the plan rests on")
    pocket = pocket_bytes(opened, chosen, chooses.items)
    return PlannedVisit(compose(opened, chosen, judged, reports, shares, pocket), pocket)


def _require_time(visit: Visit, shares: Shares, minutes_available: float) -> None:
    """Refuse a visit that is over before its first sample."""
    if minutes_available <= 0:
        limits = visit.limits
        minutes = (limits.ends_at - limits.starts_at).total_seconds() / SECONDS
        kept = counted(shares.judgement, "container")
        raise LimitsClash(
            f"visit '{visit.id}' lasts {minutes:.0f} minutes, and the {kept} kept free for judgement take "
            f"{minutes - minutes_available:.0f} of them; let it end later or lower judgement_share"
        )
