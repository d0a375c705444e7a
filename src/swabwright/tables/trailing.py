"""Rows of a sheet that are no rows of its table: blank, repeated headers, headings, totals, notes below."""

from swabwright.tables.grid import Grid, cell_text
from swabwright.tables.headers import Header

TOTALS = ("total", "totals", "sum", "count", "subtotal")


def row_reasons(grid: Grid, first: int, header: Header, keys: list[int]) -> dict[int, str]:
    """Why each row from `first` on is set aside, by zero-based row; rows of the table are not in it.

    `keys`: the columns of which a row of the table fills at least one.
    """
    reasons = {}
    for row in range(first, len(grid.cells)):
        reason = _reason(grid, row, header, keys)
        if reason:
            reasons[row] = reason
    # What the last true row is can be known only when every row has been judged.
    last = max((row for row in range(first, len(grid.cells)) if row not in reasons), default=first)
    return {row: _after(why) if row > last else why for row, why in reasons.items()}


def _reason(grid: Grid, row: int, header: Header, keys: list[int]) -> str | None:
    texts = [cell_text(cell) for cell in grid.cells[row]]
    checks = (
        (_is_empty(grid, row), "empty row"),
        (_repeats(grid, row, header), "the header repeated"),
        # A note merged over all columns fills every cell, yet is one value: that is why values are counted.
        (len(header.guesses) > 1 and grid.filled(row) == 1, "a heading"),
        (texts[0].casefold().rstrip(":") in TOTALS, "a total"),
        (not any(_own(grid, row, column) for column in keys), _no_key(header, keys)),
    )
    return next((reason for holds, reason in checks if holds), None)


def _is_empty(grid: Grid, row: int) -> bool:
    """Whether nothing was written in this row itself; a value merged from above does not count."""
    return all(cell is None or grid.is_spread(row, column) for column, cell in enumerate(grid.cells[row]))


def _no_key(header: Header, keys: list[int]) -> str:
    return "names nothing (" + ", ".join(header.texts[column] for column in keys) + " empty)"


def _own(grid: Grid, row: int, column: int) -> bool:
    """Whether a value of this column stands here, be it merged over several rows; not one merged across columns."""
    return grid.cells[row][column] is not None and grid.origins[row][column][1] == column


def _repeats(grid: Grid, row: int, header: Header) -> bool:
    above = range(header.row, header.row + header.rows)
    if tuple(cell_text(cell) for cell in grid.cells[row]) == header.texts:
        return True
    return any(grid.cells[row] == grid.cells[line] for line in above)


def _after(reason: str) -> str:
    return "a note below the table" if reason == "a heading" else f"{reason}, below the table"
