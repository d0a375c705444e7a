"""Codes of sites: tidied, refused when they occur twice, and found in the drawing."""

import re
from collections import Counter
from collections.abc import Mapping, Sequence

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.drawing import Drawing
from swabwright.plant.imports.outlines import spot
from swabwright.plant.model import Point
from swabwright.tables.table import Row

CODE = re.compile(r"^[A-Za-z0-9][A-Za-z0-9._/-]{0,31}$")


def site_rows(context: Context) -> tuple[Row, ...]:
    """The rows of the site list with a code that can stand; a code that occurs twice is a fault naming both rows."""
    first: dict[str, Row] = {}
    for row in context.rows("sites"):
        code = code_of(row)
        if code in context.mapping.leave_out:
            context.notes.put_aside(row.where, code, "the mapping leaves this site out")
        elif not CODE.match(code):
            context.notes.fault(row.where, _no_code(code))
        elif code in first:
            context.notes.fault(
                row.where, f"code '{code}' stands in row {first[code].number} too; give each site a code of its own"
            )
        else:
            first[code] = row
    return tuple(first.values())


def code_of(row: Row) -> str:
    """The code of a row, its blanks turned into hyphens."""
    return row.text("code").replace(" ", "-")


def _no_code(code: str) -> str:
    if not code:
        return "this site has no code; write one"
    return f"'{code}' cannot be a site code; use letters, figures, '.', '_', '/' and '-' only, at most 32"


def drawn_positions(context: Context, codes: Sequence[str]) -> dict[str, Point]:
    """Where the drawing shows each code, as a text or as an attribute of a symbol."""
    known = {code.casefold(): code for code in codes}
    found: dict[str, Point] = {}
    strangers: Counter[str] = Counter()
    for text, at in _candidates(context, known):
        code = known.get(text.replace(" ", "-").casefold())
        if code is None:
            strangers[text] += 1
        # A symbol and a text at the same place are one mark.
        elif code in found and found[code] != at:
            context.notes.put_aside(
                f"{context.drawing.name}, {spot(at)}", text, f"drawn at {spot(found[code])} too; the first is taken"
            )
            context.notes.assume(f"sites[{code}].position", "its code stands twice in the drawing")
        else:
            found[code] = at
    for text in strangers:
        context.notes.put_aside(f"{context.drawing.name}, site codes", text, "no site of this code in the list")
    return found


def _candidates(context: Context, known: Mapping[str, str]) -> list[tuple[str, Point]]:
    """The texts on the layer of the codes; without such a layer, every text of the drawing that is a known code."""
    if context.layers.of("sites"):
        return _texts(context.drawn("sites"))
    found = [each for each in _texts(context.drawing) if each[0].replace(" ", "-").casefold() in known]
    if found:
        context.notes.guess(f"{context.drawing.name}: no layer of site codes; {len(found)} codes found among its texts")
    return found


def _texts(drawing: Drawing) -> list[tuple[str, Point]]:
    """Every word that may be a code; a symbol's attributes stand at the symbol."""
    labels = [(label.text, label.at) for label in drawing.labels]
    symbols = [(text, block.at) for block in drawing.blocks for text in block.attributes.values() if text]
    return symbols + labels
