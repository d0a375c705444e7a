"""A logger's cells as temperatures in C; mixed units, unreadable cells and the logger's own faults are named."""

import re
from collections.abc import Sequence

from swabwright.errors import Fault
from swabwright.plant.figures import Figures
from swabwright.record.read_as import Unit
from swabwright.tables.grid import Cell, cell_text
from swabwright.tables.units import to_base

# A logger writes no thousands: 4,125 is four degrees and an eighth.
_READING = re.compile(r"^([+-]?\d+(?:[.,]\d+)?)\s*(?:°\s*|deg\.?\s*)?(C|F|celsius|fahrenheit)?$", re.IGNORECASE)
_UNIT_ALONE = re.compile(r"(?:°\s*|[\[(\s])(C|F)[\])]?$")
Rows = Sequence[tuple[int, Cell]]


def unit_of_cells(rows: Rows) -> tuple[Unit | None, list[Fault]]:
    """The unit that the cells themselves name, if any; a row that names another one is a fault."""
    first: tuple[int, Unit] | None = None
    for row, cell in rows:
        unit = _named(cell)
        if unit and first and unit != first[1]:
            return first[1], [Fault(f"row {row}", _mixed(unit, *first))]
        if unit and not first:
            first = row, unit
    return (first[1] if first else None), []


def temperatures(rows: Rows, unit: Unit, figures: Figures) -> tuple[list[float], list[Fault]]:
    """The temperature of each row in C, or every row that holds none, each with what to do."""
    coldest, warmest = (figures.number(f"cold_chain.{name}_reading_c") for name in ("coldest", "warmest"))
    found, faults = [], []
    for row, cell in rows:
        try:
            degrees = to_base(_number(cell), unit.lower(), "temperature_c")
        except ValueError as error:
            faults.append(Fault(f"row {row}", f"{error}; leave the row out with --leave-out {row}, or export anew"))
            continue
        if not coldest <= degrees <= warmest:
            said = f"{degrees:.1f} °C is a fault of the logger, or in another unit than {unit}; leave the row out with"
            faults.append(Fault(f"row {row}", f"{said} --leave-out {row}, or say the unit with --unit"))
        found.append(degrees)
    return found, faults


def _number(cell: Cell) -> float:
    if isinstance(cell, float):
        return cell
    match = _READING.match(cell_text(cell)) if isinstance(cell, str) else None
    if match is None:
        raise ValueError(f"'{cell_text(cell)}' is no temperature")
    return float(match[1].replace(",", "."))


def _named(cell: Cell) -> Unit | None:
    if not isinstance(cell, str):
        return None
    match = _READING.match(cell)
    named = match[2] if match else (found[1] if (found := _UNIT_ALONE.search(cell)) else None)
    return None if not named else ("C" if named[0] in "cC" else "F")


def _mixed(unit: str, row: int, first: str) -> str:
    return (
        f"is in {unit}, while row {row} is in {first}; one file holds one unit: export it anew, or enter each part as "
        "a file of its own"
    )
