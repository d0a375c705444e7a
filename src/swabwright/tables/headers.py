"""Where a table's header stands: one row or two, often below a title."""

from collections.abc import Iterator
from dataclasses import dataclass

from swabwright.tables.fields import TableFields
from swabwright.tables.grid import Grid, cell_text
from swabwright.tables.guesses import ColumnHeader, Corrections, Guess, guess_columns
from swabwright.tables.quantities import NUMBER_FIRST
from swabwright.tables.units import split_header, tidy_unit

ROWS_SEARCHED = 25
"""A header lower than this is no header that people would find either; the mapping can still name it."""
ROWS_JUDGED = 60
"""Rows below a header by which a column of numbers is told from one of words."""
LEAST_GAIN = 0.3
"""By how much of one full match two rows together must beat each alone to count as one header."""


@dataclass(frozen=True)
class Header:
    """A table's header: its first row (zero-based), how many rows, and the columns it names."""

    row: int
    rows: int
    texts: tuple[str, ...]
    guesses: tuple[Guess, ...]

    @property
    def strength(self) -> float:
        """How much of the table it explains: one for each field matched in full."""
        return sum(guess.score for guess in self.guesses) / 100


def find_header(grid: Grid, table: TableFields, corrections: Corrections) -> Header | None:
    """The header as said by the mapping, else the strongest one near the top; None when no row looks like one."""
    if corrections.header_row is not None:
        row = corrections.header_row - 1
        if row >= len(grid.cells):
            return None
        return _header(grid, (row, corrections.header_rows), table, corrections)
    best: Header | None = None
    for header in _candidates(grid, table):
        if best is None or header.strength > best.strength + _handicap(best, header):
            best = header
    if best is None or len(best.guesses) < min(2, grid.width):
        return None
    return _header(grid, (best.row, best.rows), table, corrections)


def _handicap(best: Header, header: Header) -> float:
    """A double row must clearly beat a single one, and a single one need only be better."""
    return LEAST_GAIN if header.rows > best.rows else 0.0


def _candidates(grid: Grid, table: TableFields) -> Iterator[Header]:
    """Single rows first, so that a pair of rows must earn its place; tied pairs stand for their rows."""
    rows = range(min(ROWS_SEARCHED, len(grid.cells)))
    # Rows that belong together are not tried alone: the upper one often holds all words but the units.
    tied = {row for row in rows if row + 1 < len(grid.cells) and _tied(grid, row, table)}
    plain = [row for row in rows if row not in tied and row - 1 not in tied]
    for row in plain:
        yield _header(grid, (row, 1), table, Corrections())
    for row in [*sorted(tied), *plain]:
        if row + 1 < len(grid.cells) and _is_words(grid, row + 1):
            yield _header(grid, (row, 2), table, Corrections())


def _tied(grid: Grid, row: int, table: TableFields) -> bool:
    """Whether the next row belongs to this one: cells merged downwards over both, or a row of units."""
    below = grid.cells[row + 1]
    if not _is_words(grid, row + 1) or not _is_words(grid, row):
        return False
    texts = [tidy_unit(cell_text(cell).strip("()[] ")) for cell in below if cell is not None]
    units = bool(texts) and all(table.is_unit(text) for text in texts)
    merged = any(origin == (row, column) for column, origin in enumerate(grid.origins[row + 1]))
    return grid.filled(row) > 1 and (units or merged)


def _is_words(grid: Grid, row: int) -> bool:
    return all(cell is None or isinstance(cell, str) for cell in grid.cells[row])


def _header(grid: Grid, place: tuple[int, int], table: TableFields, corrections: Corrections) -> Header:
    row, rows = place
    texts = tuple(_text(grid, place, column, table) for column in range(grid.width))
    headers = [_column(grid, place, (column, text), table) for column, text in enumerate(texts)]
    return Header(row, rows, texts, guess_columns(headers, table, corrections))


def _column(grid: Grid, place: tuple[int, int], header: tuple[int, str], table: TableFields) -> ColumnHeader:
    column, text = header
    first = sum(place)
    parts = split_header(text, table.unit_kinds())
    last = cell_text(grid.cells[first - 1][column]) if place[1] > 1 and first <= len(grid.cells) else ""
    below = [cell_text(row[column]) for row in grid.cells[first : first + ROWS_JUDGED] if row[column] is not None]
    numeric = sum(NUMBER_FIRST.match(cell) is not None for cell in below) / len(below) if below else 1.0
    return ColumnHeader(parts.words, parts.unit, last, numeric)


def _text(grid: Grid, place: tuple[int, int], column: int, table: TableFields) -> str:
    """The header of one column; the words of two rows joined, a unit below put in brackets."""
    row, rows = place
    parts: list[str] = []
    for line in range(row, min(row + rows, len(grid.cells))):
        text = cell_text(grid.cells[line][column])
        if text and text not in parts:
            parts.append(text)
    if len(parts) > 1 and table.is_unit(tidy_unit(parts[-1].strip("()[] "))):
        parts[-1] = f"({parts[-1].strip('()[] ')})"
    return " ".join(parts)
