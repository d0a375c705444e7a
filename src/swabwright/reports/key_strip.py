"""The key as one picture, for the SVG sheets: no mark is ever split from its words."""

import re
from collections.abc import Mapping, Sequence
from typing import Any

from swabwright.reports.fonts import text_width
from swabwright.reports.marks import symbols
from swabwright.reports.picture import picture, text_svg

TEXT_MM, GAP_MM, BETWEEN_MM, ROW_GAP_MM = 2.6, 1.2, 5.0, 1.6
SIZE = re.compile(r'<svg [^>]*viewBox="0 0 ([\d.]+) ([\d.]+)"[^>]*>')


def key_strip(rows: Sequence[Sequence[Mapping[str, Any]]], pictures: Mapping[str, str], width_mm: float) -> str:
    """Every entry of the key with its words, in rows that break at the width."""
    placed, top = [], 0.0
    for row in rows:
        left, high = 0.0, 0.0
        for entry in row:
            body, wide, tall = _drawn(pictures[entry["picture"]], entry.get("height"))
            whole = wide + GAP_MM + text_width(entry["words"], TEXT_MM)
            if left and left + whole > width_mm:
                top, left, high = top + high + ROW_GAP_MM, 0.0, 0.0
            words = text_svg(entry["words"], (wide + GAP_MM, tall / 2), TEXT_MM)
            placed.append(f'<g transform="translate({left:.2f} {top:.2f})">{body}{words}</g>')
            left, high = left + whole + BETWEEN_MM, max(high, tall)
        top += high + ROW_GAP_MM
    return picture(placed, (width_mm, top))


def _drawn(svg: str, height: float | None) -> tuple[str, float, float]:
    """What a picture draws, scaled to a height, with its width and height in millimetres."""
    match = SIZE.match(svg)
    if match is None:
        raise ValueError("a picture of a key begins with its size")
    wide, tall = (float(side) for side in match.groups())
    scale = height / tall if height else 1.0
    body = svg[match.end() : -len("</svg>")].replace(symbols(), "")
    return f'<g transform="scale({scale:.4f})">{body}</g>', wide * scale, tall * scale
