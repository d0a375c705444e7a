"""A table read from a sheet: its rows by field, and everything that was not taken, with the reason."""

from collections import Counter
from dataclasses import dataclass

from swabwright.errors import SwabwrightError
from swabwright.tables.fields import Field, TableFields
from swabwright.tables.grid import Cell, Grid, cell_text, column_letter
from swabwright.tables.guesses import Corrections, Guess
from swabwright.tables.headers import Header, find_header
from swabwright.tables.numbers import Reading
from swabwright.tables.quantities import read_quantity
from swabwright.tables.trailing import row_reasons


@dataclass(frozen=True)
class SetAside:
    """A row or column of a sheet that was not taken: where it stands, what it says, and why not."""

    where: str
    text: str
    reason: str

    def __str__(self) -> str:
        shown = f" '{self.text}'" if self.text else ""
        return f"{self.where}{shown}: {self.reason}"


@dataclass(frozen=True)
class Row:
    """One row of a table: its number in the spreadsheet and its cells by field."""

    sheet: str
    number: int
    cells: dict[str, Cell]
    units: dict[str, str | None]
    fields: dict[str, Field]

    @property
    def where(self) -> str:
        """How a person finds it: `sheet 'Sites', row 14`."""
        return f"sheet '{self.sheet}', row {self.number}"

    def text(self, field: str) -> str:
        """The field as text; empty when the column or the cell is."""
        return cell_text(self.cells.get(field))

    def quantity(self, field: str) -> Reading | None:
        """The field in its own unit, None when empty. Raises ValueError naming the words it cannot read."""
        cell, kind = self.cells.get(field), self.fields[field].kind
        if cell is None or kind is None:
            return None
        return read_quantity(cell, kind, self.units.get(field))


@dataclass(frozen=True)
class Table:
    """Everything a sheet says about one kind of thing."""

    sheet: str
    rows: tuple[Row, ...]
    guesses: tuple[Guess, ...]
    set_aside: tuple[SetAside, ...]
    header_row: int = 1
    """As the spreadsheet counts: the first row is 1."""
    header_rows: int = 1

    def has(self, field: str) -> bool:
        """Whether a column was taken for this field."""
        return any(guess.field == field for guess in self.guesses)


def read_table(grid: Grid, fields: TableFields, corrections: Corrections | None = None) -> Table:
    """The rows of a sheet under the header that fits best; raises SwabwrightError when none does."""
    header = find_header(grid, fields, corrections or Corrections())
    if header is None:
        wanted = ", ".join(field.called[0] for field in fields.fields[:6])
        raise SwabwrightError(
            f"sheet '{grid.name}': no row looks like a header for {fields.name} (looked for {wanted} ...); "
            f"name it in the mapping file, [sheets.{fields.name}] header_row"
        )
    return _table(grid, fields, header)


def _table(grid: Grid, fields: TableFields, header: Header) -> Table:
    first = header.row + header.rows
    columns = {guess.field: guess.column for guess in header.guesses}
    reasons = row_reasons(grid, first, header, [columns[key] for key in fields.key_ids() if key in columns])
    rows = tuple(_row(grid, row, header, fields) for row in range(first, len(grid.cells)) if row not in reasons)
    aside = [*_above(grid, header), *_columns_left(grid, header)]
    aside += [SetAside(f"sheet '{grid.name}', row {row + 1}", _line(grid, row), why) for row, why in reasons.items()]
    return Table(grid.name, rows, header.guesses, tuple(aside), header.row + 1, header.rows)


def _row(grid: Grid, row: int, header: Header, fields: TableFields) -> Row:
    return Row(
        sheet=grid.name,
        number=row + 1,
        cells={guess.field: grid.cells[row][guess.column] for guess in header.guesses},
        units={guess.field: guess.unit for guess in header.guesses},
        fields={field.id: field for field in fields.fields},
    )


def _line(grid: Grid, row: int) -> str:
    """What a row says, each written value once."""
    own = [cell for column, cell in enumerate(grid.cells[row]) if not grid.is_spread(row, column)]
    return " | ".join(cell_text(cell) for cell in own if cell is not None)


def _above(grid: Grid, header: Header) -> list[SetAside]:
    rows = [row for row in range(header.row) if grid.filled(row)]
    return [
        SetAside(f"sheet '{grid.name}', row {row + 1}", _line(grid, row), "stands above the header") for row in rows
    ]


def _columns_left(grid: Grid, header: Header) -> list[SetAside]:
    """Columns with any value that no field was found for; says so when the header occurs twice."""
    taken = {guess.column for guess in header.guesses}
    often = Counter(text.casefold() for text in header.texts if text)
    first = header.row + header.rows
    aside = []
    for column, text in enumerate(header.texts):
        filled = sum(grid.cells[row][column] is not None for row in range(first, len(grid.cells)))
        if column in taken or not (text or filled):
            continue
        # The second of two equal headers is never guessed: which one is meant only the plant knows.
        twice = text and often[text.casefold()] > 1
        reason = "its header occurs twice; the mapping can say which is meant" if twice else "no field fits this header"
        where = f"sheet '{grid.name}', column {column_letter(column)}"
        aside.append(SetAside(where, text, f"{reason} ({filled} cells)"))
    return aside
