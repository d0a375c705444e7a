"""Where a logger's times and temperatures stand: heading, columns, what the lines above declare; can be overruled."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from zoneinfo import available_timezones

from swabwright.errors import DocumentRefused, Fault, did_you_mean
from swabwright.plant.figures import Figures
from swabwright.plant.registry import data_files
from swabwright.record.read_as import ReadAs, Unit
from swabwright.tables.fields import Field, TableFields
from swabwright.tables.grid import Cell, Grid, cell_text, column_letter
from swabwright.tables.guesses import Corrections
from swabwright.tables.headers import Header, find_header
from swabwright.tables.units import split_header

MOST_FAULTS_TOLD = 10
FIELDS = ("date", "time", "temperature")
_UNIT_LINE = re.compile(r"\bunits?\b", re.IGNORECASE)
_UNIT = re.compile(r"°\s*([CF])\b|\b(?:deg\.?\s*)?(C|F)(?:elsius|ahrenheit)\b|(?:^|[\s:;(\[,])([CF])(?=$|[\s)\],;])")
_ZONE_LINE = re.compile(r"\bzone\b", re.IGNORECASE)
_ZONE = re.compile(r"\b(?:UTC|GMT)(?:\s*[+-]\d{1,2}(?::?\d\d)?)?|\b[A-Z][a-z]+/[A-Z][A-Za-z_]+|(?<!\d)[+-]\d\d:\d\d\b")


@dataclass(frozen=True)
class Layout:
    """One sheet with the place of its readings."""

    name: str
    """Of the file."""
    asked: ReadAs
    grid: Grid
    heading_row: int
    """As a spreadsheet counts; 0: none."""
    columns: Mapping[str, int]
    headings: Mapping[str, str]
    not_read: tuple[str, ...]
    """Further columns that look like a temperature, as `C 'Probe 2 (°C)'`."""
    declared_unit: Unit | None
    """What heading and lines above agree on."""
    declared_zone: str | None

    def rows(self) -> list[tuple[int, tuple[Cell, ...]]]:
        """Row number and cells of every row that may hold a reading; empty rows and those left out are none."""
        numbered = enumerate(self.grid.cells[self.heading_row :], self.heading_row + 1)
        kept = [(number, row) for number, row in numbered if number not in self.asked.left_out]
        return [(number, row) for number, row in kept if any(cell is not None for cell in row)]

    def refuse(self, faults: Sequence[Fault]) -> None:
        """Refuse the file when there are faults, the first of them told."""
        more = len(faults) - MOST_FAULTS_TOLD
        if faults:
            rest = [Fault("", f"and {more} more like these")] if more > 0 else []
            raise DocumentRefused(self.name, [*faults[:MOST_FAULTS_TOLD], *rest])


def find_layout(sheets: Sequence[Grid], asked: ReadAs, figures: Figures, name: str) -> Layout:
    """The sheet, heading and columns, guessed where not asked for; `DocumentRefused` says which option is needed."""
    fields = _fields(figures)
    chosen = [grid for grid in sheets if asked.sheet in (None, grid.name)]
    if not chosen:
        hint = did_you_mean(asked.sheet or "", [grid.name for grid in sheets])
        raise DocumentRefused(name, [Fault("--sheet", f"no sheet '{asked.sheet}'{hint}")])
    if not any(grid.width for grid in chosen):
        raise DocumentRefused(name, [Fault("", "is empty; export it from the logger anew")])
    headers = [(grid, _header(grid, asked, fields)) for grid in chosen]
    # A workbook often opens with a summary: the sheet with most rows below a heading holds the readings.
    grid, header = max(headers, key=lambda pair: (pair[1] is not None, len(pair[0].cells)))
    if header is None and (asked.heading_row is None or asked.time_column is None or asked.temperature_column is None):
        raise DocumentRefused(name, [Fault(f"sheet '{grid.name}'", _NO_HEADING)])
    layout = _layout(grid, header, asked, name)
    return layout if header is None else replace(layout, not_read=_not_read(header, layout, fields))


_NO_HEADING = (
    "no row looks like a heading with a time and a temperature; name it with --heading-row (0: none), and the columns "
    "with --time-column and --temperature-column (letters)"
)


def _fields(figures: Figures) -> TableFields:
    called = data_files()["cold_chain.toml"]["headings"]
    fields = tuple(
        Field(name, tuple(called[name]), "temperature_c" if name == "temperature" else None) for name in FIELDS
    )
    return TableFields("readings", fields, figures.number("cold_chain.heading_least_score"))


def _header(grid: Grid, asked: ReadAs, fields: TableFields) -> Header | None:
    if asked.heading_row == 0 or not grid.cells:
        return None
    return find_header(grid, fields, Corrections(header_row=asked.heading_row))


def _layout(grid: Grid, header: Header | None, asked: ReadAs, name: str) -> Layout:
    guessed = {guess.field: guess.column for guess in header.guesses} if header else {}
    columns = {field: place for field in FIELDS if (place := _column(field, asked, guessed, grid, name)) is not None}
    missing = [Fault(f"--{field}-column", _no_column(field, grid)) for field in FIELDS[1:] if field not in columns]
    if missing:
        raise DocumentRefused(name, missing)
    below = header.row + header.rows if header else 0
    heading_row = below if asked.heading_row is None else asked.heading_row
    first = header.row if header else max(heading_row - 1, 0)
    headings = {field: _heading(grid, (first, heading_row), column) for field, column in columns.items()}
    above = [" ".join(filter(None, map(cell_text, row))) for row in grid.cells[:first]]
    return Layout(
        name=name,
        asked=asked,
        grid=grid,
        heading_row=heading_row,
        columns=columns,
        headings=headings,
        not_read=(),
        declared_unit=_declared_unit(headings, above, name, asked),
        declared_zone=_declared_zone(headings, above),
    )


def _not_read(header: Header, layout: Layout, fields: TableFields) -> tuple[str, ...]:
    """Columns beside those read whose heading carries a unit of temperature or is called like one."""
    temperature = next(field for field in fields.fields if field.kind)
    found = []
    for column, text in enumerate(header.texts):
        parts = split_header(text, fields.unit_kinds())
        if column not in layout.columns.values() and (
            parts.unit or temperature.score(parts.words) >= fields.least_score
        ):
            found.append(f"{column_letter(column)} '{text}'")
    return tuple(found)


def _column(field: str, asked: ReadAs, guessed: Mapping[str, int], grid: Grid, name: str) -> int | None:
    letter = getattr(asked, f"{field}_column")
    if letter is None:
        # With a time column said, a guessed date column would be joined to what may be whole already.
        return None if field == "date" and asked.time_column else guessed.get(field)
    letters = [column_letter(place) for place in range(grid.width)]
    if letter not in letters:
        raise DocumentRefused(
            name, [Fault(f"--{field}-column", f"no column {letter}; the sheet has {letters[0]} to {letters[-1]}")]
        )
    return letters.index(letter)


def _no_column(field: str, grid: Grid) -> str:
    last = column_letter(grid.width - 1)
    return f"no column looks like the {field}; name it by its letter, A to {last}"


def _heading(grid: Grid, rows: tuple[int, int], column: int) -> str:
    return " ".join(filter(None, (cell_text(row[column]) for row in grid.cells[slice(*rows)])))


def _units(text: str) -> set[str]:
    return {next(filter(None, found)).upper() for found in _UNIT.findall(text)}


def _declared_unit(headings: Mapping[str, str], above: Sequence[str], name: str, asked: ReadAs) -> Unit | None:
    lines = [line for line in above if _UNIT_LINE.search(line)]
    found = set().union(*(_units(text) for text in (headings.get("temperature", ""), *lines)))
    if len(found) > 1 and asked.unit is None:
        raise DocumentRefused(
            name,
            [Fault("unit", "heading and lines above name both C and F; say which holds with --unit C or --unit F")],
        )
    return None if len(found) != 1 else ("C" if "C" in found else "F")


def _declared_zone(headings: Mapping[str, str], above: Sequence[str]) -> str | None:
    lines = [*(line for line in above if _ZONE_LINE.search(line)), headings.get("time", ""), headings.get("date", "")]
    matches = {match.group() for line in lines for match in _ZONE.finditer(line)}
    # 'Date/Time' is written like a place, but is none.
    found = {one for one in matches if "/" not in one or one in available_timezones()}
    return found.pop() if len(found) == 1 else None
