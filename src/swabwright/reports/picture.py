"""One SVG picture in millimetres, and text in it."""

from collections.abc import Sequence

from swabwright.reports.fonts import FAMILIES
from swabwright.reports.frame import Dot
from swabwright.reports.marks import symbols
from swabwright.reports.placing import Label

HALO_SHARE = 0.28
"""Width of a text's halo of the ground, as a share of its size."""
BASELINE_SHARE = 0.34
"""How far the baseline lies under the middle of the digits and capitals."""


def picture(layers: Sequence[str], size_mm: Dot) -> str:
    """Layers as one SVG document of a size in millimetres, in the house's typefaces."""
    width, height = size_mm
    families = ", ".join(f"'{family}'" for family in FAMILIES)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.2f}mm" height="{height:.2f}mm" '
        f'viewBox="0 0 {width:.2f} {height:.2f}" font-family="{families}">'
    )
    drawn = "".join(layers)
    # small pictures without a mark need not carry every mark's definition
    return head + (symbols() if "<use" in drawn else "") + drawn + "</svg>"


def label_svg(text: str, label: Label, size: float, weight: int = 600) -> str:
    """A text in its box, with a halo of the ground."""
    return text_svg(text, (label.middle[0] - label.width / 2, label.middle[1]), size, weight=weight, halo=True)


def text_svg(text: str, at: Dot, size: float, *, weight: int = 400, anchor: str = "start", halo: bool = False) -> str:
    """A text at a position in millimetres, centred on the height of its capitals."""
    escaped = text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    place = f'x="{at[0]:.2f}" y="{at[1] + size * BASELINE_SHARE:.2f}" font-size="{size}" font-weight="{weight}"'
    head = f'<text {place} text-anchor="{anchor}"'
    ground = f' stroke="#fff" stroke-width="{size * HALO_SHARE:.2f}" stroke-linejoin="round" paint-order="stroke"'
    return f'{head} fill="#000"{ground if halo else ""}>{escaped}</text>'
