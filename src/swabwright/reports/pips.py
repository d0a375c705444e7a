"""Pips: what came back from one site, round after round, as a row of squares, the oldest first."""

from collections.abc import Sequence

from swabwright.reports.marks import Fill
from swabwright.reports.tokens import HAIR_MM

PIP_MM = 2.1
EDGE_MM = 0.32
DOTTED = 'stroke-dasharray="0 0.55" stroke-linecap="round"'


def pips_svg(fills: Sequence[Fill | None]) -> tuple[str, tuple[float, float]]:
    """The row drawn around 0,0, and its size in millimetres; None stands for a round that did not sample the site."""
    left = -PIP_MM * len(fills) / 2
    row = "".join(_pip(fill, left + at * PIP_MM) for at, fill in enumerate(fills))
    return f'<g class="pips">{row}</g>', (PIP_MM * len(fills), PIP_MM)


def _pip(fill: Fill | None, left: float) -> str:
    half = PIP_MM / 2
    if fill is None:
        return f'<circle cx="{left + half:.2f}" cy="0" r="0.3" fill="#000"/>'
    square = f"M{left:.2f} {-half:.2f}h{PIP_MM}v{PIP_MM}h-{PIP_MM}z"
    ink = "#000" if fill == "detected" else "#fff"
    dotted = fill in ("not-yet-known", "no-result")
    drawn = f'<path d="{square}" fill="{ink}" stroke="#000" stroke-width="{EDGE_MM}" {DOTTED if dotted else ""}/>'
    return drawn + _inside(fill, left)


def _inside(fill: Fill, left: float) -> str:
    half = PIP_MM / 2
    if fill == "not-detected":
        return f'<path d="M{left + 0.5:.2f} 0h{PIP_MM - 1.0:.2f}" stroke="#000" stroke-width="{EDGE_MM}"/>'
    if fill == "presumptive":
        return f'<path d="M{left:.2f} 0h{PIP_MM}v{half:.2f}h-{PIP_MM}z" fill="#000"/>'
    if fill == "no-result":
        return f'<path d="M{left:.2f} {half:.2f}l{PIP_MM} {-PIP_MM}" stroke="#000" stroke-width="{HAIR_MM}"/>'
    return ""
