"""The papers of findings: findings.pdf and findings.svg."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from shapely import Polygon

from swabwright.case.findings import Findings
from swabwright.case.investigation import Investigation
from swabwright.plant.document import Plant
from swabwright.reports.charts import boxes_svg
from swabwright.reports.detail_plate import detail_window, plate_frame
from swabwright.reports.drawing import Drawing, dots_mm
from swabwright.reports.evidence_table import evidence_table
from swabwright.reports.findings_scene import findings_scene, sites_seen
from swabwright.reports.findings_words import findings_words
from swabwright.reports.footprints import floor
from swabwright.reports.frame import frame_for
from swabwright.reports.glyphs import readable
from swabwright.reports.key_strip import key_strip
from swabwright.reports.papers import LETTER_MAP_MM, Paper
from swabwright.reports.result_rows import result_rows
from swabwright.reports.sampled import Sampled
from swabwright.reports.scale_bar import SCALE_BAR_MM
from swabwright.reports.scene import Scene, scene_drawing
from swabwright.reports.scene_key import scene_key
from swabwright.reports.spots import Link
from swabwright.reports.svg_sheet import svg_sheet
from swabwright.reports.tokens import MAP_MM
from swabwright.reports.typesetting import pdf

PLATE_MM = (170.0, 74.0)
"""The detail plate on the second page."""


@dataclass(frozen=True)
class FindingsSheet:
    """What the papers of findings are made from."""

    found: Findings
    plant: Plant
    investigation: Investigation
    sampled: Sequence[Sampled]
    links: Sequence[Link] = ()


def findings_papers(sheet: FindingsSheet, paper: Paper = "a4") -> dict[str, bytes]:
    """findings.pdf and findings.svg by name; the same findings give the same bytes."""
    drawings = findings_drawings(sheet, MAP_MM if paper == "a4" else LETTER_MAP_MM)
    boxes = boxes_svg(sheet.found.stipple.not_drawn, dots_mm(sheet.found.stipple, drawings[0].mm_per_m))
    key = key_strip(*scene_key(_scene(sheet)), drawings[0].width_mm)
    svg = svg_sheet([*(drawing.svg for drawing in drawings), boxes, key], drawings[0].alt)
    return {"findings.pdf": _pdf(sheet, drawings, boxes, paper), "findings.svg": svg.encode()}


def _pdf(sheet: FindingsSheet, drawings: Sequence[Drawing], boxes: str, paper: Paper) -> bytes:
    """The findings as PDF: drawing with the dots, ranking, detail plate, evidence, priors, assumptions, results."""
    found, (whole, *plates) = sheet.found, drawings
    rows, pictures = evidence_table(found, sites_seen(found, sheet.sampled))
    key, key_pictures = scene_key(_scene(sheet))
    words: dict[str, Any] = findings_words(found, sheet.plant, sheet.investigation) | rows
    words |= {"paper": paper, "key": key, "results": result_rows(found, sheet.sampled)}
    words |= {"map": _size(whole), "plates": [_size(plate) for plate in plates]}
    pictures |= key_pictures | {f"plate-{at}.svg": plate.svg for at, plate in enumerate(plates)}
    return pdf("findings.typ", readable(words), pictures | {"map.svg": whole.svg, "boxes.svg": boxes})


def findings_drawings(sheet: FindingsSheet, room_mm: tuple[float, float]) -> list[Drawing]:
    """The whole plant, and the detail plate where most dots stand close together."""
    scene, found = _scene(sheet), sheet.found
    window: Polygon | None = detail_window(
        sheet.plant, found.believed, found.stipple, PLATE_MM[0] / PLATE_MM[1]
    )  # fmt: skip
    frame = frame_for(floor(sheet.plant), (room_mm[0], room_mm[1] - SCALE_BAR_MM))
    drawings = [scene_drawing(scene, frame, window=window)]
    if window is not None:
        drawings.append(scene_drawing(scene, plate_frame(window, PLATE_MM[0]), is_plate=True))
    return drawings


def _scene(sheet: FindingsSheet) -> Scene:
    return findings_scene(sheet.found, sheet.plant, sheet.sampled, sheet.links)


def _size(drawing: Drawing) -> dict[str, Any]:
    return {"width": drawing.width_mm, "height": drawing.height_mm, "alt": drawing.alt}
