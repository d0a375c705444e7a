"""The papers of a proposal for the next visit: next-visit.pdf and next-visit.svg."""

from collections.abc import Sequence
from typing import Any

from swabwright.case.investigation import Investigation
from swabwright.case.next_visit import NextVisit
from swabwright.plant.document import Plant
from swabwright.reports.footprints import floor
from swabwright.reports.frame import frame_for
from swabwright.reports.glyphs import readable
from swabwright.reports.key_strip import key_strip
from swabwright.reports.next_scene import next_scene
from swabwright.reports.next_words import next_words
from swabwright.reports.papers import LETTER_MAP_MM, Paper
from swabwright.reports.sampled import Sampled
from swabwright.reports.scale_bar import SCALE_BAR_MM
from swabwright.reports.scene import scene_drawing
from swabwright.reports.scene_key import boxed_sign, scene_key
from swabwright.reports.svg_sheet import svg_sheet
from swabwright.reports.tokens import MAP_MM
from swabwright.reports.typesetting import pdf


def next_papers(
    document: NextVisit,
    case: tuple[Plant, Investigation],
    sampled: Sequence[Sampled],
    *,
    first: int,
    paper: Paper = "a4",
) -> dict[str, bytes]:
    """next-visit.pdf and next-visit.svg by name; proposed numbers go on from `first`."""
    plant, investigation = case
    scene = next_scene(document, plant, sampled, first)
    width, height = MAP_MM if paper == "a4" else LETTER_MAP_MM
    drawing = scene_drawing(scene, frame_for(floor(plant), (width, height - SCALE_BAR_MM)))
    key, pictures = scene_key(scene, [("key-boxed.svg", boxed_sign(str(first)), "proposed")])
    words: dict[str, Any] = next_words(document, plant, investigation, first)
    words |= {"paper": paper, "key": key, "map": {"width": drawing.width_mm, "alt": drawing.alt}}
    made = pdf("next.typ", readable(words), pictures | {"map.svg": drawing.svg})
    sheet = svg_sheet([drawing.svg, key_strip(key, pictures, drawing.width_mm)], drawing.alt)
    return {"next-visit.pdf": made, "next-visit.svg": sheet.encode()}
