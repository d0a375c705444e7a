"""Sheets of a file: XLSX, XLS, ODS or CSV, told apart by their first bytes and their name."""

from pathlib import Path

from python_calamine import CalamineError, CalamineWorkbook, PasswordError, ZipError

from swabwright.errors import SwabwrightError
from swabwright.tables.delimited import read_delimited
from swabwright.tables.grid import Grid, Span, make_grid
from swabwright.tables.spans import spans_of_ods

TEXT_SUFFIXES = (".csv", ".tsv", ".txt")


def read_sheets(path: Path) -> tuple[Grid, ...]:
    """Every sheet of a spreadsheet, or the one table of a CSV file, as grids."""
    if not path.is_file():
        raise SwabwrightError(f"{path.name}: there is no such file; give the spreadsheet's path")
    # The name decides, since a CSV file has no mark of its own.
    if path.suffix.lower() in TEXT_SUFFIXES:
        return (make_grid(path.stem, read_delimited(path.read_bytes())),)
    return _sheets_of_workbook(path)


def _sheets_of_workbook(path: Path) -> tuple[Grid, ...]:
    try:
        workbook = CalamineWorkbook.from_path(path)
        spans = spans_of_ods(path) if path.suffix.lower() == ".ods" else {}
        return tuple(_sheet(workbook, name, spans.get(name)) for name in workbook.sheet_names)
    except PasswordError:
        raise SwabwrightError(f"{path.name}: the file asks for a password; save a copy without one") from None
    except (CalamineError, ZipError, OSError) as error:
        raise SwabwrightError(
            f"{path.name}: this is no spreadsheet that can be read ({error}); save it as XLSX, ODS or CSV"
        ) from None


def _sheet(workbook: CalamineWorkbook, name: str, spans: tuple[Span, ...] | None) -> Grid:
    sheet = workbook.get_sheet_by_name(name)
    return make_grid(name, sheet.to_python(skip_empty_area=False), spans or sheet.merged_cell_ranges or ())
