"""OpenDocument spreadsheets with merged cells, for tests of reading them."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import CoveredTableCell, Table, TableCell, TableRow
from odf.text import P

Rows = Sequence[Sequence[Any]]


def write_ods(path: Path, sheets: Mapping[str, Rows], merges: Sequence[str] = ()) -> Path:
    """A spreadsheet of these sheets; `merges` are ranges of the first one ('A3:A5')."""
    document = OpenDocumentSpreadsheet()
    for name, rows in sheets.items():
        spans = [_span(merge) for merge in merges] if name == next(iter(sheets)) else []
        document.spreadsheet.addElement(_table(name, rows, spans))
    document.save(str(path))
    return path


def _span(merge: str) -> tuple[int, int, int, int]:
    """First row and column, last row and column, from 0."""
    first, last = merge.split(":")
    return (int(first[1:]) - 1, ord(first[0]) - ord("A"), int(last[1:]) - 1, ord(last[0]) - ord("A"))


def _table(name: str, rows: Rows, spans: Sequence[tuple[int, int, int, int]]) -> Table:
    table = Table(name=name)
    for number, row in enumerate(rows):
        line = TableRow()
        for column, value in enumerate(row):
            line.addElement(_cell(value, (number, column), spans))
        table.addElement(line)
    return table


def _cell(value: object, place: tuple[int, int], spans: Sequence[tuple[int, int, int, int]]) -> Any:
    row, column = place
    for top, left, bottom, right in spans:
        if (row, column) == (top, left):
            size = {"numberrowsspanned": bottom - top + 1, "numbercolumnsspanned": right - left + 1}
            return _filled(TableCell(valuetype="string", **size), value)
        if top <= row <= bottom and left <= column <= right:
            return CoveredTableCell()
    if isinstance(value, int | float):
        return _filled(TableCell(valuetype="float", value=value), value)
    return _filled(TableCell(valuetype="string"), value)


def _filled(cell: Any, value: object) -> Any:
    if value != "":
        cell.addElement(P(text=str(value)))
    return cell
