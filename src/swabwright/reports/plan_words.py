"""Everything the plan's papers say, as plain data for the templates."""

from typing import Any

from swabwright.case.investigation import Investigation, Visit
from swabwright.case.plan import Plan
from swabwright.plant.document import Plant
from swabwright.reports.closing_words import (
    SIMULATED,
    believed_rows,
    believed_words,
    made_from,
    not_said,
    rests_rows,
    rests_words,
)
from swabwright.reports.first_page_words import first_page
from swabwright.reports.key_pictures import line_key
from swabwright.reports.mark_pictures import key_marks, mark_height_mm, mark_name
from swabwright.reports.safety_words import hold_words, safety_words, stop_words
from swabwright.reports.sheet_words import device_name, walk_words
from swabwright.reports.wording import listed, long_date, short_date

ZONES = {
    1: "Z1 touches product",
    2: "Z2 next to product",
    3: "Z3 same room",
    4: "Z4 outside it",
}
ORGANISMS = {"listeria_monocytogenes": "Listeria monocytogenes"}
KEY_SHARE = 0.8
"""Marks of the key are drawn at this share of the sheets' scale."""


def plan_words(plan: Plan, plant: Plant, investigation: Investigation) -> dict[str, Any]:
    """The words of plan.pdf: sentences, tables, keys and text alternatives."""
    visit = next(visit for visit in investigation.visits if visit.id == plan.visit)
    products = {line.product for line in plant.lines}
    return {
        "title": f"{visit.name}, {long_date(plan.visit_date)}",
        "visit": visit.name,
        "day": short_date(plan.visit_date),
        "plant": plant.name,
        "about": listed(sorted(products)) or "no lines drawn",
        "organism": ORGANISMS.get(investigation.organism, investigation.organism.replace("_", " ").capitalize()),
        "agency": investigation.agency,
        "reference": investigation.reference,
        "foot": foot_words(plan, investigation, visit),
        "key": key_words(plan),
        "lines": [{"picture": name, "words": words} for name, _, words in line_key(plan, plant)],
        "safety": safety_words(plan),
        "stops": stop_words(plan, plant),
        "hold_words": hold_words(plan),
        "kit": [{"item": k.item, "needed": k.needed, "spare": k.spare, "why": k.why} for k in plan.kit],
        "walk": walk_words(plan, plant),
        "rests_words": rests_words(plan, investigation),
        "rests_on": rests_rows(plan),
        "not_said": not_said(plan),
        "believed": believed_rows(plan.believed),
        "believed_words": believed_words(plan),
        "made_from": made_from(plan),
    } | first_page(plan, visit)


def foot_words(plan: Plan, investigation: Investigation, visit: Visit) -> dict[str, str]:
    """The foot of every page."""
    return {
        "left": f"Case {investigation.reference}, {visit.name}",
        "middle": f"Swabwright {plan.software_version}, {SIMULATED}",
        "right": f"drawing {plan.hashes.plant[:8]}",
    }


def key_words(plan: Plan) -> list[dict[str, Any]]:
    """The key to the marks on the drawing: zones, then devices."""
    rows = []
    for mark in key_marks(plan):
        words = ZONES[mark.zone] if mark.zone else device_name(mark.device)
        rows.append(
            {
                "picture": mark_name(mark),
                "height": mark_height_mm(mark) * KEY_SHARE,
                "words": words,
                "zone": bool(mark.zone),
            }
        )
    return rows
