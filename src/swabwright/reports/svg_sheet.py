"""Several pictures on one SVG sheet, with the letters they need inside: it looks the same on every machine."""

import re
from base64 import b64encode
from collections.abc import Sequence
from functools import cache
from io import BytesIO

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

from swabwright.reports.fonts import FAMILIES, SANS, font_folder
from swabwright.reports.marks import symbols

GAP_MM, EDGE_MM = 5.0, 4.0
WEIGHTS = {400: "AtkinsonHyperlegibleNext_400Regular.ttf", 600: "AtkinsonHyperlegibleNext_600SemiBold.ttf",
           700: "AtkinsonHyperlegibleNext_700Bold.ttf"}  # fmt: skip
SIZE = re.compile(r'<svg [^>]*viewBox="0 0 ([\d.]+) ([\d.]+)"[^>]*>')


def svg_sheet(pictures: Sequence[str], title: str) -> str:
    """The pictures below one another on white, the title as text for who cannot see them."""
    placed, top, wide = [], EDGE_MM, 0.0
    for at, svg in enumerate(pictures):
        match = SIZE.match(svg)
        if match is None:
            raise ValueError("a picture of a sheet begins with its size")
        width, height = (float(side) for side in match.groups())
        # clip paths of several pictures must not share a name
        body = (
            svg[match.end() : -len("</svg>")]
            .replace(symbols(), "")
            .replace('"window"', f'"window-{at}"')
            .replace("#window)", f"#window-{at})")
        )
        placed.append(f'<g transform="translate({EDGE_MM} {top:.2f})">{body}</g>')
        top, wide = top + height + GAP_MM, max(wide, width)
    size = wide + 2 * EDGE_MM, top - GAP_MM + EDGE_MM
    families = ", ".join(f"'{family}'" for family in FAMILIES)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size[0]:.2f}mm" height="{size[1]:.2f}mm" role="img" '
        f'viewBox="0 0 {size[0]:.2f} {size[1]:.2f}" font-family="{families}, sans-serif">'
    )
    escaped = title.replace("&", "&amp;").replace("<", "&lt;")
    ground = f'<title>{escaped}</title><path d="M0 0H{size[0]:.2f}V{size[1]:.2f}H0z" fill="#fff"/>'
    drawn = "".join(placed)
    # the marks are defined once for the whole sheet
    ground += symbols() if "<use" in drawn else ""
    return f"{head}{ground}<style>{_faces(drawn)}</style>{drawn}</svg>"


def _faces(drawn: str) -> str:
    letters = "".join(sorted(set("".join(re.findall(r"<text[^>]*>([^<]*)</text>", drawn)))))
    used = [weight for weight in WEIGHTS if f'font-weight="{weight}"' in drawn]
    return "".join(_face(weight, _subset(weight, letters)) for weight in used)


def _face(weight: int, subset: str) -> str:
    source = f"url(data:font/ttf;base64,{subset})"
    return f"@font-face{{font-family:'{SANS}';font-weight:{weight};src:{source}}}"


@cache
def _subset(weight: int, letters: str) -> str:
    font = TTFont(font_folder() / WEIGHTS[weight], recalcTimestamp=False)
    subsetter = Subsetter(Options(layout_features=["kern"], notdef_outline=True))
    subsetter.populate(text=letters)
    subsetter.subset(font)
    out = BytesIO()
    font.save(out)
    return b64encode(out.getvalue()).decode()
