"""Same strain: a double line to the nearest relative, with the number of differences in a disc."""

from collections.abc import Sequence
from math import hypot

from swabwright.reports.fonts import text_width
from swabwright.reports.frame import Dot, d
from swabwright.reports.picture import text_svg
from swabwright.reports.spots import Link, Shown
from swabwright.reports.strokes import between

WIDE_MM, INNER_MM = 1.06, 0.44
"""Four pixels overall; the white between the two lines."""
DISC_MM, NUMBER_MM, PAD_MM, EDGE_MM = 1.9, 2.5, 0.5, 0.35


def link_lines(links: Sequence[Link], stops: Sequence[Shown]) -> str:
    """The double lines, to lie under the marks."""
    paths = [d([stops[link.first].at, stops[link.second].at]) for link in links]
    outer = "".join(f'<path d="{path}" stroke="#000" stroke-width="{WIDE_MM}"/>' for path in paths)
    inner = "".join(f'<path d="{path}" stroke="#fff" stroke-width="{INNER_MM}"/>' for path in paths)
    return f'<g id="strain-links" fill="none">{outer}{inner}</g>' if links else ""


def link_numbers(links: Sequence[Link], stops: Sequence[Shown]) -> str:
    """The discs with the differences, on the middle of what shows of each line."""
    return "".join(link_disc(link.number, _middle(stops[link.first], stops[link.second])) for link in links)


def link_disc(number: str, at: Dot) -> str:
    """One disc with a number, wide enough for it."""
    half = max(DISC_MM, text_width(number, NUMBER_MM, 600) / 2 + PAD_MM)
    body = (
        f'<rect x="{at[0] - half:.2f}" y="{at[1] - DISC_MM:.2f}" width="{2 * half:.2f}" height="{2 * DISC_MM}" '
        f'rx="{DISC_MM}" fill="#fff" stroke="#000" stroke-width="{EDGE_MM}"/>'
    )
    return body + text_svg(number, at, NUMBER_MM, weight=600, anchor="middle")


def _middle(first: Shown, second: Shown) -> Dot:
    # marks differ in size: the middle of the visible stretch, not of the two sites
    across, down = second.at[0] - first.at[0], second.at[1] - first.at[1]
    length = max(hypot(across, down), 0.01)
    share = (first.radius_mm + (length - second.radius_mm)) / (2 * length)
    x, y = between(first.at, second.at, min(max(share, 0.0), 1.0))
    if length - first.radius_mm - second.radius_mm >= 2 * DISC_MM:
        return x, y
    # between marks that touch there is no room: the disc stands beside them, square to the line
    aside = max(first.radius_mm, second.radius_mm) + DISC_MM
    return x - aside * down / length, y + aside * across / length
