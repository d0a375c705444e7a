"""Same strain: a double line to the nearest relative, with the number of differences in a disc."""

from collections.abc import Sequence

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
    length = max(((first.at[0] - second.at[0]) ** 2 + (first.at[1] - second.at[1]) ** 2) ** 0.5, 0.01)
    share = (first.radius_mm + (length - second.radius_mm)) / (2 * length)
    return between(first.at, second.at, min(max(share, 0.0), 1.0))
