"""A sheet as it stands: cells by row and column, with merged cells spread over their range."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

Cell = str | float | bool | date | datetime | time | timedelta | None
"""What a cell may hold; an empty cell is None."""

Span = tuple[tuple[int, int], tuple[int, int]]
"""First and last cell of a merged range, both included, as zero-based (row, column)."""


@dataclass(frozen=True)
class Grid:
    """One sheet: its cells, and for every cell the place its value was written at."""

    name: str
    cells: tuple[tuple[Cell, ...], ...]
    origins: tuple[tuple[tuple[int, int], ...], ...]
    """(row, column) where each cell's value stands: its own place, or the first cell of its merged range."""

    @property
    def width(self) -> int:
        """Number of columns."""
        return len(self.cells[0]) if self.cells else 0

    def filled(self, row: int) -> int:
        """How many values stand in a row, a value merged over many columns counting once."""
        pairs = zip(self.cells[row], self.origins[row], strict=True)
        return len({origin for cell, origin in pairs if cell is not None})

    def is_spread(self, row: int, column: int) -> bool:
        """Whether this cell shows a value that was written in another cell of its merged range."""
        return self.origins[row][column] != (row, column)


def make_grid(name: str, rows: Sequence[Sequence[object]], spans: Sequence[Span] = ()) -> Grid:
    """The sheet as a rectangle, each merged value spread over its whole range."""
    width = max((len(row) for row in rows), default=0)
    cells = [[_tidy(value) for value in row] + [None] * (width - len(row)) for row in rows]
    origins = [[(row, column) for column in range(width)] for row in range(len(cells))]
    for span in spans:
        _spread(cells, origins, span)
    return Grid(name, tuple(map(tuple, cells)), tuple(map(tuple, origins)))


def column_letter(column: int) -> str:
    """The spreadsheet's letter of a zero-based column: 0 is A, 27 is AB."""
    letters = ""
    rest = column + 1
    while rest:
        rest, place = divmod(rest - 1, 26)
        letters = chr(ord("A") + place) + letters
    return letters


def cell_text(cell: Cell) -> str:
    """A cell as a person would read it: `12` for 12.0, `06:30` for a time, empty for None."""
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float) and cell.is_integer():
        return str(int(cell))
    if isinstance(cell, time):
        return cell.strftime("%H:%M")
    return str(cell)


def _tidy(value: object) -> Cell:
    """A raw value with blanks as None, white space single, and whole numbers as floats."""
    if isinstance(value, str):
        return " ".join(value.split()) or None
    # A truth value is a whole number too, and must not become 1.0.
    if isinstance(value, int) and not isinstance(value, bool):
        return float(value)
    if value is None or isinstance(value, float | bool | date | time | timedelta):
        return value
    return str(value)


def _spread(cells: list[list[Cell]], origins: list[list[tuple[int, int]]], span: Span) -> None:
    (top, left), (bottom, right) = span
    for row in range(top, min(bottom + 1, len(cells))):
        for column in range(left, min(right + 1, len(cells[row]))):
            cells[row][column] = cells[top][left]
            origins[row][column] = (top, left)
