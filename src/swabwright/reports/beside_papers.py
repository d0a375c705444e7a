"""A drawing with a table beside it: the papers of strains and of a scan."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from swabwright.case.investigation import Investigation
from swabwright.reports.closing_words import SIMULATED
from swabwright.reports.footprints import floor
from swabwright.reports.frame import frame_for
from swabwright.reports.glyphs import readable
from swabwright.reports.key_strip import key_strip
from swabwright.reports.papers import LETTER_MAP_MM, Paper
from swabwright.reports.scale_bar import SCALE_BAR_MM
from swabwright.reports.scene import Scene, scene_drawing
from swabwright.reports.scene_key import scene_key
from swabwright.reports.svg_sheet import svg_sheet
from swabwright.reports.tokens import MAP_MM
from swabwright.reports.typesetting import pdf
from swabwright.reports.wording import listed


@dataclass(frozen=True)
class Beside:
    """What stands beside the drawing: a title, sentences, one table, and what the page does not say."""

    name: str
    """Of the files, without an ending."""
    title: str
    sentences: tuple[str, ...]
    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    not_said: tuple[str, ...]


def beside_papers(
    scene: Scene,
    beside: Beside,
    signs: Sequence[tuple[str, str, str]],
    investigation: Investigation | None = None,
    paper: Paper = "a4",
) -> dict[str, bytes]:
    """PDF and SVG by name; `signs` are the key of what only this drawing shows."""
    width, height = MAP_MM if paper == "a4" else LETTER_MAP_MM
    drawing = scene_drawing(scene, frame_for(floor(scene.plant), (width, height - SCALE_BAR_MM)))
    key, pictures = scene_key(scene, signs)
    words = _words(scene, beside, investigation)
    words |= {"paper": paper, "key": key, "map": {"width": drawing.width_mm, "alt": drawing.alt}}
    made = pdf("strains.typ", readable(words), pictures | {"map.svg": drawing.svg})
    sheet = svg_sheet([drawing.svg, key_strip(key, pictures, drawing.width_mm)], drawing.alt)
    return {f"{beside.name}.pdf": made, f"{beside.name}.svg": sheet.encode()}


def _words(scene: Scene, beside: Beside, investigation: Investigation | None) -> dict[str, Any]:
    plant = scene.plant
    return {
        "title": beside.title,
        "plant": plant.name,
        "about": listed(sorted({line.product for line in plant.lines})) or "no lines drawn",
        "agency": investigation.agency if investigation else "",
        "reference": investigation.reference if investigation else "",
        "draft": True,
        "computed_at": "",
        "foot": {
            "left": f"Case {investigation.reference}" if investigation else plant.name,
            "middle": SIMULATED if investigation else "",
            "right": beside.name,
        },
        "sentences": list(beside.sentences),
        "header": list(beside.header),
        "rows": [list(row) for row in beside.rows],
        "not_said": list(beside.not_said),
    }
