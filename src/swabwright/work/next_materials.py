"""Samples of material that test whether it came in with material, for every line under suspicion."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from typing import Literal

from swabwright.belief.estimate import basis_of, chance
from swabwright.belief.evidence import kg_made
from swabwright.case.investigation import Visit
from swabwright.case.next_visit import MaterialSample
from swabwright.detection.observed import MaterialTest
from swabwright.errors import SwabwrightError
from swabwright.inference.came_in import moved_by
from swabwright.plant.document import Plant
from swabwright.plant.lines import Line
from swabwright.spread.schedule import zone_of
from swabwright.work.opened import OpenVisit
from swabwright.work.simulated import Simulated

Kind = Literal["incoming", "product"]
KINDS: tuple[Kind, Kind] = ("incoming", "product")
DAYS_LOOKED_BACK = 14


def lines_in_question(opened: OpenVisit) -> tuple[Line, ...]:
    """The implicated lines, in order of their names; every line where none is."""
    implicated = {one.line for one in opened.case.investigation.implicated}
    lines = sorted(opened.case.plant.lines, key=lambda line: line.id)
    return tuple(line for line in lines if not implicated or line.id in implicated)


def running_day(plant: Plant, line: Line, visit: Visit) -> date | None:
    """The last day up to the visit on which a line makes anything; None when it has not run for a fortnight."""
    of_visit = visit.limits.starts_at.astimezone(zone_of(plant)).date()
    for back in range(DAYS_LOOKED_BACK):
        day = of_visit - timedelta(days=back)
        try:
            kg_made(line, day, plant.timezone, "next visit")
        except SwabwrightError:
            continue
        return day
    return None


def material_samples(opened: OpenVisit, reports: Simulated) -> Iterator[MaterialSample]:
    """For each line in question: what came in for it, then its product, with what either answer would move."""
    for line in lines_in_question(opened):
        day = running_day(opened.case.plant, line, opened.visit)
        if day is not None and day in reports.belief.known.bank.days:
            yield from (_sample(opened, reports, line, (kind, day)) for kind in KINDS)


def _sample(opened: OpenVisit, reports: Simulated, line: Line, what: tuple[Kind, date]) -> MaterialSample:
    (kind, day), figures, belief = what, opened.figures, reports.belief
    increments = round(figures.number("next.material_increments"))
    kg = increments * figures.number("next.material_increment_kg")
    test = MaterialTest(f"{kind} of {line.id}", kind, line.id, day, kg, increments, detected=True)
    moved, rows, basis = moved_by(belief, test), belief.rows, basis_of(belief)
    after = {found: replace(rows, weight=moved.given(rows.weight, found=found)) for found in (True, False)}
    return MaterialSample(
        line=line.id,
        line_name=line.name,
        kind=kind,
        words=_words(kind, line, kg, figures.number("next.material_reserve_kg")),
        made_on=day,
        kg=round(kg, 6),
        increments=increments,
        incoming_before=chance(moved.came_in, rows, basis),
        chance_detected=chance(moved.detected, rows, basis),
        incoming_if_detected=chance(moved.came_in, after[True], basis),
        incoming_if_not_detected=chance(moved.came_in, after[False], basis),
    )


def _words(kind: Kind, line: Line, kg: float, reserve_kg: float) -> str:
    """What to take: unopened, its lot, its mass, and a portion kept in reserve."""
    grams, reserve = round(kg * 1000), round(reserve_kg * 1000)
    what = {
        "incoming": f"Raw material, ingredient, brine or water that goes into {line.name}",
        "product": f"Finished or retained product of {line.name}",
    }[kind]
    return (
        f"{what}: {grams} g in all, from an unopened pack where there is one (water at its point of use); write down "
        f"lot, supplier or tank, mass and whether the pack was whole; leave {reserve} g unopened in reserve and offer "
        "the plant a companion sample."
    )
