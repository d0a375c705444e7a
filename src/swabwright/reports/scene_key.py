"""The key to what lies on a drawing of findings: zones, devices, results, and the plant's own lines."""

from collections.abc import Sequence
from typing import Any

from swabwright.reports.key_pictures import plant_key
from swabwright.reports.mark_pictures import mark_height_mm, mark_picture
from swabwright.reports.marks import Fill, Mark
from swabwright.reports.picture import picture, text_svg
from swabwright.reports.scene import Scene
from swabwright.reports.sheet_words import device_name

ZONES = {1: "Z1 touches product", 2: "Z2 next to product", 3: "Z3 same room", 4: "Z4 outside it"}
FILLS: dict[Fill, str] = {
    "detected": "detected",
    "presumptive": "presumptive",
    "not-detected": "not detected",
    "no-result": "no result will come",
    "not-yet-known": "no result yet",
}
KEY_SHARE = 0.8
RESULT_SHAPE = "SH"
"""Results are shown on the shape of a sponge on a handle; every other shape is filled alike."""
Pictures = dict[str, str]


def mark_file(mark: Mark) -> str:
    """The file name of a mark with its result."""
    return f"mark-{mark.device}-{mark.zone}-{mark.fill}.svg"


def scene_key(scene: Scene, more: Sequence[tuple[str, str, str]] = ()) -> tuple[list[list[dict[str, Any]]], Pictures]:
    """The rows of the key with their words, and their pictures by file name; `more` are signs of this drawing only."""
    marks = [spot.mark for spot in scene.spots]
    zones = [Mark("", zone) for zone in sorted({mark.zone for mark in marks if mark.zone})]
    devices = [Mark(device, 0) for device in sorted({mark.device for mark in marks})]
    fills = [Mark(RESULT_SHAPE, 0, fill) for fill in FILLS if any(mark.fill == fill for mark in marks)]
    rows = [
        [_entry(mark, ZONES[mark.zone]) for mark in zones],
        [_entry(mark, device_name(mark.device)) for mark in devices],
        [_entry(mark, FILLS[mark.fill]) for mark in fills] + [_sign(name, words) for name, _, words in more],
        [_sign(name, words) for name, _, words in plant_key(scene.plant)],
    ]
    pictures = {mark_file(mark): mark_picture(mark) for mark in (*zones, *devices, *fills)}
    pictures |= {name: svg for name, svg, _ in (*plant_key(scene.plant), *more)}
    return [row for row in rows if row], pictures


def _entry(mark: Mark, words: str) -> dict[str, Any]:
    return {"picture": mark_file(mark), "height": mark_height_mm(mark) * KEY_SHARE, "words": words}


def _sign(name: str, words: str) -> dict[str, Any]:
    return {"picture": name, "words": words}


def boxed_sign(number: str) -> str:
    """A boxed number for the key: proposed."""
    edge = '<rect x="0.3" y="0.3" width="6" height="3.6" fill="#fff" stroke="#000" stroke-width="0.4"/>'
    return picture([edge, text_svg(number, (3.3, 2.1), 2.8, weight=600, anchor="middle")], (6.6, 4.2))
