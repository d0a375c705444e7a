"""A cell with a number and perhaps a unit: `36 h`, `12 in`, `1,5 m`, `250 cm2`, `10 x 10 cm`."""

import re

from swabwright.tables.grid import Cell, cell_text
from swabwright.tables.numbers import NUMBER, Reading, read_number
from swabwright.tables.units import Kind, tidy_unit, to_base

UNIT_EXPECTED: dict[Kind, str] = {"area_cm2": "cm²", "length_m": "m", "kg_per_hour": "kg per hour"}
"""Kinds of quantity that people write in several units, and the unit taken when none is written."""

ABOUT = r"^(?:about|approx\.?|ca\.?|~)?\s*"
NUMBER_FIRST = re.compile(rf"{ABOUT}{NUMBER}", re.IGNORECASE)
"""A cell that begins with a number, as every quantity does."""
_QUANTITY = re.compile(rf"{ABOUT}({NUMBER})\s*(.*)$", re.IGNORECASE)
_SQUARE = re.compile(rf"^({NUMBER})\s*([a-z\"]*)\s*[x\u00d7]\s*({NUMBER})\s*([a-z\"]+)?$", re.IGNORECASE)


def read_quantity(cell: Cell, kind: Kind, unit: str | None) -> Reading:
    """The cell in the unit of its kind; `unit` is used when the cell itself names none.

    Raises ValueError with the words to show when the cell is no such quantity.
    """
    if isinstance(cell, float):
        return _based(cell, unit, kind)
    text = cell_text(cell)
    # Sides are how areas are measured on the floor: "10 x 10 cm" is written more often than 100 cm2.
    square = _SQUARE.match(text) if kind == "area_cm2" else None
    if square:
        return _rectangle(square, unit)
    match = _QUANTITY.match(text)
    if not match:
        raise ValueError(f"'{text}' is no number with a unit")
    number = _number(match.group(1), text)
    return _based(number.value, tidy_unit(match.group(2)) or unit, kind, number.doubt)


def _rectangle(match: re.Match[str], header_unit: str | None) -> Reading:
    """Area of 'width x height unit', in cm²."""
    first, first_unit, second, second_unit = match.groups()
    unit = tidy_unit(second_unit or first_unit or (header_unit or "cm2").removesuffix("2"))
    sides = [_number(side, match.group(0)) for side in (first, second)]
    metres = [to_base(side.value, unit, "length_m") for side in sides]
    return Reading(metres[0] * metres[1] * 10_000, sides[0].doubt or sides[1].doubt)


def _number(text: str, whole: str) -> Reading:
    try:
        return read_number(text)
    except ValueError:
        raise ValueError(f"'{whole}' is no number with a unit") from None


def _based(value: float, unit: str | None, kind: Kind, doubt: str | None = None) -> Reading:
    """The value in the kind's own unit; with no unit written anywhere it is taken as it stands, with a doubt."""
    if unit:
        return Reading(to_base(value, unit, kind), doubt)
    if kind in UNIT_EXPECTED and value:
        doubt = doubt or f"no unit written; read as {UNIT_EXPECTED[kind]}"
    return Reading(value, doubt)
