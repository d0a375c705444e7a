"""The papers of a plan: the plan itself, and the labels."""

from dataclasses import dataclass
from datetime import datetime
from math import ceil
from typing import Literal

from swabwright.case.investigation import Investigation
from swabwright.case.plan import Plan
from swabwright.plant.document import Plant
from swabwright.reports.charts import boxes_svg, curve_svg, tens_svg
from swabwright.reports.clock_strip import clock_svg
from swabwright.reports.codes import code_128_svg, qr_svg
from swabwright.reports.drawing import dot_mm, plan_drawings
from swabwright.reports.glyphs import readable
from swabwright.reports.key_pictures import line_key
from swabwright.reports.label_words import label_words
from swabwright.reports.mark_pictures import mark_pictures
from swabwright.reports.plan_words import plan_words
from swabwright.reports.tokens import MAP_MM
from swabwright.reports.typesetting import pdf

Paper = Literal["a4", "letter"]
LETTER_MAP_MM = (150.0, 126.0)
DEVICES_A_ROW, HEADING_CHARACTERS, ROW_MM = 6, 85, 5.5
NARROWEST_MM = 150.0
"""Least width of the left column of the first page: the clock and the key stand in it."""
PLATE_MM = (184.0, 232.0)
"""Room for an enlarged room on an upright page of either size."""


@dataclass(frozen=True)
class Edition:
    """How a paper is printed: the sheet, whether the plan is accepted, and when it was computed."""

    paper: Paper = "a4"
    accepted: bool = False
    computed_at: datetime | None = None


def plan_pdf(
    plan: Plan,
    plant: Plant,
    investigation: Investigation,
    *,
    paper: Paper = "a4",
    accepted: bool = False,
    computed_at: datetime | None = None,
) -> bytes:
    """The plan as PDF: map with walk and stipple, safety, kit, walk sheet by room, and what it rests on.

    The same plan gives the same bytes. Raises SwabwrightError for text that no typeface can show or no box can hold.
    """
    edition = Edition(paper, accepted, computed_at)
    drawing, *plates = plan_drawings(plan, plant, _map_mm(plan, plant, paper), PLATE_MM)
    words = plan_words(plan, plant, investigation) | _edition_words(edition)
    words["plates"] = [{"title": plate.title, "width": plate.width_mm, "alt": plate.alt} for plate in plates]
    # the template needs the width before it can lay out the page
    words["map"] = {"width": drawing.width_mm, "alt": drawing.alt}
    visit = next(visit for visit in investigation.visits if visit.id == plan.visit)
    chosen = sum(sample.kind == "surface" for sample in plan.samples)
    pictures = {
        "map.svg": drawing.svg,
        "clock.svg": clock_svg(plan, plant, max(drawing.width_mm, NARROWEST_MM), visit.limits.ends_at),
        "curve.svg": curve_svg(plan.curve, chosen),
        "tens.svg": tens_svg(plan),
        "boxes.svg": boxes_svg(plan.stipple.not_drawn, dot_mm(plan, drawing.mm_per_m)),
    }
    pictures |= {name: svg for name, svg, _ in line_key(plan, plant)} | mark_pictures(plan)
    pictures |= {f"plate-{place}.svg": plate.svg for place, plate in enumerate(plates)}
    return pdf("plan.typ", readable(words), pictures)


def labels_pdf(
    plan: Plan, plant: Plant, investigation: Investigation, *, paper: Paper = "a4", accepted: bool = False
) -> bytes:
    """The labels as PDF: number, QR and Code 128 on the label, everything else on the stub; spares at the end."""
    words = label_words(plan, plant, investigation) | {"paper": paper, "draft": not accepted}
    numbers = [label["number"] for label in words["labels"]]
    pictures = {f"qr-{number}.svg": qr_svg(number) for number in numbers}
    pictures |= {f"bars-{number}.svg": code_128_svg(number) for number in numbers}
    return pdf("labels.typ", readable(words), pictures | mark_pictures(plan))


def _map_mm(plan: Plan, plant: Plant, paper: Paper) -> tuple[float, float]:
    """The room for the map: what the page has, less what a long key and a long heading take."""
    width, height = MAP_MM if paper == "a4" else LETTER_MAP_MM
    devices = len({sample.device for sample in plan.samples})
    key_rows = ceil(devices / DEVICES_A_ROW) - 1
    heading_rows = len(plant.name) // HEADING_CHARACTERS
    return width, height - ROW_MM * (key_rows + heading_rows)


def _edition_words(edition: Edition) -> dict[str, object]:
    return {"paper": edition.paper, "draft": not edition.accepted} | (
        {"computed_at": edition.computed_at.strftime("%Y-%m-%d %H:%M")} if edition.computed_at else {"computed_at": ""}
    )
