"""The rows of a scan's CSV file: which site, where, in which period, how many detected of how many."""

from collections.abc import Iterator
from dataclasses import dataclass

from swabwright.errors import DocumentRefused, Fault
from swabwright.plant.model import Point
from swabwright.tables.delimited import read_delimited

WITH_PLACE = ["site", "x_m", "y_m", "period", "detected", "tested"]
BY_CODE = ["site", "period", "detected", "tested"]
"""The heading of a file whose sites stand where the plant document draws them."""

LARGEST = 1e9
"""A number beyond this is no length in metres, no period and no count of samples."""


@dataclass(frozen=True)
class Row:
    """What was found at one site in one period, and the row of the file that says so."""

    at: int
    site: str
    point: Point | None
    """On the drawing, m; None where the plant document says it."""
    period: int
    detected: int
    tested: float


def read_rows(content: bytes, name: str, model: str) -> tuple[Row, ...]:
    """The rows of the file; DocumentRefused names the first that cannot be read."""
    cells = [[cell.strip() for cell in row] for row in read_delimited(content)]
    if len(cells) < 2 or cells[0] not in (WITH_PLACE, BY_CODE):
        wanted = f"must be {','.join(WITH_PLACE)}, or {','.join(BY_CODE)} with a plant document"
        raise DocumentRefused(name, [Fault("row 1", f"the heading {wanted}, with rows below it")])
    return tuple(_rows(cells[1:], name, model, has_place=cells[0] == WITH_PLACE))


def _rows(cells: list[list[str]], name: str, model: str, *, has_place: bool) -> Iterator[Row]:
    lengths = "two lengths in m, " if has_place else ""
    needed = f"needs a site, {lengths}and whole numbers for period, detected and (bernoulli) tested"
    for at, row in enumerate(cells, 2):
        try:
            read = _row(at, row, has_place=has_place)
        except ValueError as error:
            raise DocumentRefused(name, [Fault(f"row {at}", needed)]) from error
        if not read.site or not _can_be(read) or (model == "bernoulli" and read.tested % 1 != 0):
            raise DocumentRefused(name, [Fault(f"row {at}", needed)])
        yield read


def _row(at: int, row: list[str], *, has_place: bool) -> Row:
    site, *place, period, detected, tested = row
    point = None
    if has_place:
        x, y = place
        point = (float(x), float(y))
    elif place:
        raise ValueError(place)
    return Row(at, site, point, int(period), int(detected), float(tested))


def _can_be(row: Row) -> bool:
    """Whether no number is infinite, absent or beyond all measure."""
    return all(abs(number) <= LARGEST for number in (*(row.point or ()), row.period, row.detected, row.tested))
