"""Files that hold sheets."""

from datetime import time

import pytest
import xlsxwriter
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import CoveredTableCell, Table, TableCell, TableRow
from odf.text import P

from swabwright.errors import SwabwrightError
from swabwright.tables.workbook import read_sheets


def _cell(text, **spans):
    cell = TableCell(valuetype="string", **spans)
    cell.addElement(P(text=text))
    return cell


def _ods(path):
    """Two rows; 'Slicing' stands over both in the first column, 'Area' over two columns in a later row."""
    document, table = OpenDocumentSpreadsheet(), Table(name="Sites")
    rows = [
        [_cell("Slicing", numberrowsspanned=2, numbercolumnsspanned=1), _cell("S1"), _cell("a")],
        [CoveredTableCell(), _cell("S2"), _cell("b")],
        [_cell("x"), _cell("Area", numberrowsspanned=1, numbercolumnsspanned=2), CoveredTableCell()],
    ]
    for cells in rows:
        row = TableRow()
        for cell in cells:
            row.addElement(cell)
        table.addElement(row)
    document.spreadsheet.addElement(table)
    document.save(str(path))
    return path


def test_merged_cells_of_an_opendocument_file_are_spread(tmp_path):
    (grid,) = read_sheets(_ods(tmp_path / "a.ods"))
    assert grid.cells == (("Slicing", "S1", "a"), ("Slicing", "S2", "b"), ("x", "Area", "Area"))


def test_merged_cells_and_types_of_an_excel_file_are_kept(tmp_path):
    with xlsxwriter.Workbook(str(tmp_path / "a.xlsx")) as book:
        sheet = book.add_worksheet("Sites")
        sheet.merge_range("A1:A2", "Slicing")
        sheet.write("B1", 1.5)
        sheet.write_datetime("B2", time(6, 30), book.add_format({"num_format": "hh:mm"}))
    (grid,) = read_sheets(tmp_path / "a.xlsx")
    assert grid.cells == (("Slicing", 1.5), ("Slicing", time(6, 30)))


def test_rows_keep_the_numbers_the_spreadsheet_shows(tmp_path):
    with xlsxwriter.Workbook(str(tmp_path / "a.xlsx")) as book:
        book.add_worksheet("Sites").write("C5", "x")
    (grid,) = read_sheets(tmp_path / "a.xlsx")
    assert grid.cells[4][2] == "x"


def test_a_csv_file_is_one_sheet_named_after_it(tmp_path):
    (tmp_path / "swab points.csv").write_text("Code;Room\nS1;Slicing", encoding="utf-8")
    (grid,) = read_sheets(tmp_path / "swab points.csv")
    assert (grid.name, grid.cells[1]) == ("swab points", ("S1", "Slicing"))


def test_a_file_that_is_not_there_is_refused_by_name(tmp_path):
    with pytest.raises(SwabwrightError, match=r"gone\.xlsx: there is no such file"):
        read_sheets(tmp_path / "gone.xlsx")


@pytest.mark.parametrize("name", ["a.xlsx", "a.ods", "a.pdf"])
def test_a_file_that_is_no_spreadsheet_is_refused_with_the_remedy(tmp_path, name):
    (tmp_path / name).write_bytes(b"%PDF-1.7 not a sheet")
    with pytest.raises(SwabwrightError, match="save it as XLSX, ODS or CSV"):
        read_sheets(tmp_path / name)
