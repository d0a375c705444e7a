"""The papers of clearance rounds: clearance.pdf and clearance.svg."""

from collections.abc import Sequence
from typing import Any

from swabwright.case.clearance import Clearance
from swabwright.case.investigation import Investigation
from swabwright.plant.document import Plant
from swabwright.reports.action_letters import KNOWN, letter_of, letter_svg
from swabwright.reports.clearance_scene import clearance_scene, pips_of
from swabwright.reports.clearance_words import clearance_words
from swabwright.reports.drawing import Drawing
from swabwright.reports.footprints import floor
from swabwright.reports.frame import frame_for
from swabwright.reports.glyphs import readable
from swabwright.reports.gone_curve import gone_svg
from swabwright.reports.key_strip import key_strip
from swabwright.reports.marks import Fill
from swabwright.reports.papers import Paper
from swabwright.reports.picture import picture
from swabwright.reports.pips import pips_svg
from swabwright.reports.sampled import Sampled
from swabwright.reports.scale_bar import SCALE_BAR_MM
from swabwright.reports.scene import scene_drawing
from swabwright.reports.scene_key import scene_key
from swabwright.reports.svg_sheet import svg_sheet
from swabwright.reports.typesetting import pdf

MAP_MM, LETTER_MAP_MM = (160.0, 104.0), (150.0, 100.0)
"""The drawing leaves room for the curve under it."""
MARGIN_MM = 0.4
PIPS: dict[Fill | None, str] = {
    "detected": "detected",
    "presumptive": "presumptive",
    "not-detected": "not detected",
    "not-yet-known": "next round, to come",
    None: "not sampled in that round",
}


def clearance_papers(
    document: Clearance, case: tuple[Plant, Investigation], sampled: Sequence[Sampled], paper: Paper = "a4"
) -> dict[str, bytes]:
    """clearance.pdf and clearance.svg by name; the same document gives the same bytes."""
    plant, investigation = case
    scene = clearance_scene(document, plant, sampled)
    width, height = MAP_MM if paper == "a4" else LETTER_MAP_MM
    drawing = scene_drawing(scene, frame_for(floor(plant), (width, height - SCALE_BAR_MM)))
    curve = gone_svg(document)
    key, pictures = scene_key(scene, _signs(document, sampled))
    words: dict[str, Any] = clearance_words(document, plant, investigation)
    # a mark of the rounds carries no result of its own: its pips do
    words |= {"paper": paper, "key": key, "map": _size(drawing)}
    pictures |= {"map.svg": drawing.svg, "curve.svg": curve} | _letters(document)
    made = pdf("clearance.typ", readable(words), pictures)
    sheet = svg_sheet([drawing.svg, curve, key_strip(key, pictures, drawing.width_mm)], drawing.alt)
    return {"clearance.pdf": made, "clearance.svg": sheet.encode()}


def _signs(document: Clearance, sampled: Sequence[Sampled]) -> list[tuple[str, str, str]]:
    """The key to pips and letters: those that are on the drawing."""
    coming = document.next_round.samples if document.next_round else ()
    codes = {one.site for one in sampled} | {one.site for one in coming}
    used = {fill for code in codes for fill in pips_of(document, sampled, code)}
    known = [one for one in KNOWN if any(action.known_by == one for action in document.actions)]
    pips = [(fill, words) for fill, words in PIPS.items() if fill in used]
    signs = [(f"key-pip-{at}.svg", _alone(pips_svg([fill])), words) for at, (fill, words) in enumerate(pips)]
    return signs + [(f"key-{one}.svg", _alone(letter_svg("A", one)), KNOWN[one]) for one in known]


def _letters(document: Clearance) -> dict[str, str]:
    return {
        f"letter-{at}.svg": _alone(letter_svg(letter_of(at), action.known_by))
        for at, action in enumerate(document.actions)
    }


def _alone(drawn: tuple[str, tuple[float, float]]) -> str:
    svg, (width, height) = drawn
    size = width + 2 * MARGIN_MM, height + 2 * MARGIN_MM
    return picture([f'<g transform="translate({size[0] / 2:.2f} {size[1] / 2:.2f})">{svg}</g>'], size)


def _size(drawing: Drawing) -> dict[str, Any]:
    return {"width": drawing.width_mm, "alt": drawing.alt}
