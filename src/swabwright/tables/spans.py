"""Merged ranges of an OpenDocument spreadsheet, which its fast reader does not tell."""

from pathlib import Path

from odf.element import Element
from odf.namespaces import TABLENS
from odf.opendocument import load
from odf.table import Table, TableRow

from swabwright.tables.grid import Span

CELLS = ((TABLENS, "table-cell"), (TABLENS, "covered-table-cell"))


def spans_of_ods(path: Path) -> dict[str, tuple[Span, ...]]:
    """The merged ranges of every sheet of an ODS file, by sheet name."""
    document = load(str(path))
    return {table.getAttribute("name"): tuple(_spans(table)) for table in document.getElementsByType(Table)}


def _spans(table: Element) -> list[Span]:
    spans: list[Span] = []
    row = 0
    for element in table.getElementsByType(TableRow):
        spans += _spans_of_row(element, row)
        row += _count(element, "number-rows-repeated")
    return spans


def _spans_of_row(element: Element, row: int) -> list[Span]:
    spans: list[Span] = []
    column = 0
    for cell in element.childNodes:
        # Rows may also hold notes and shapes, which take up no column.
        if cell.qname not in CELLS:
            continue
        down = _count(cell, "number-rows-spanned")
        across = _count(cell, "number-columns-spanned")
        if down > 1 or across > 1:
            spans.append(((row, column), (row + down - 1, column + across - 1)))
        column += _count(cell, "number-columns-repeated")
    return spans


def _count(element: Element, name: str) -> int:
    return int(element.attributes.get((TABLENS, name)) or 1)
