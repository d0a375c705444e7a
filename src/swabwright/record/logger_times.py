"""Dates and times as loggers write them: ISO, day or month first, twelve-hour clock, spreadsheet dates."""

import re
from collections.abc import Iterable
from datetime import date, datetime, time, timedelta

from swabwright.record.moments import read_zone
from swabwright.record.read_as import DateOrder
from swabwright.tables.grid import Cell

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
CENTURY = 2000
HALF_A_SECOND = timedelta(milliseconds=500)

_DATE = r"(\d{1,4})(?P<mark>[./-])(\d{1,2})(?P=mark)(\d{1,4})"
_NAMED = r"(\d{1,2})[ .-]*([A-Za-z]{3,9})[ .,-]*(\d{2,4})"
_CLOCK = r"(\d{1,2}):([0-5]\d)(?::([0-5]\d)(?:[.,]\d+)?)?\s*([AaPp]\.?[Mm]\.?)?\s*(Z|UTC|GMT|[+-]\d\d:?\d\d)?"
_NUMBERED, _WORDED = (re.compile(rf"^{day}(?:[ ,T]+{_CLOCK})?$") for day in (_DATE, _NAMED))


def read_time(cell: Cell, order: DateOrder | None) -> datetime:
    """The date and time in a cell, whole seconds, with its offset where it has one; ValueError tells the words."""
    if isinstance(cell, datetime):
        # Spreadsheets keep a time as a fraction of a day, which comes back a little off the second.
        return (cell + HALF_A_SECOND).replace(microsecond=0)
    if isinstance(cell, str):
        numbered, worded = _NUMBERED.match(cell), _WORDED.match(cell)
        if numbered:
            first, _, second, third, *clock = numbered.groups()
            return _clocked(_day(first, second, third, order or _by_mark(numbered)), clock, cell)
        if worded:
            day, month, year, *clock = worded.groups()
            return _clocked(_dated(year, _month(month), day), clock, cell)
    raise ValueError(f"'{'' if cell is None else cell}' is no date with a time of day")


def joined_cells(day: Cell, clock: Cell) -> Cell:
    """Date and time of day of two cells as one cell."""
    if isinstance(day, datetime | date) and isinstance(clock, time | timedelta | datetime):
        midnight = datetime.combine(day, time())
        if isinstance(clock, timedelta):
            return midnight + clock
        return datetime.combine(midnight, clock.time() if isinstance(clock, datetime) else clock)
    if day is None or clock is None:
        return None
    said = f"{day:%Y-%m-%d}" if isinstance(day, datetime | date) else str(day)
    return f"{said} {clock}"


def guess_order(cells: Iterable[Cell]) -> DateOrder | None:
    """Whether day or month comes first, by a number above 12 or by points between; None when nothing tells."""
    matches = [match for cell in cells if isinstance(cell, str) and (match := _NUMBERED.match(cell))]
    told: set[DateOrder] = {order for match in matches if (order := _by_numbers(match))}
    return told.pop() if len(told) == 1 else None


def tells_order(cells: Iterable[Cell]) -> bool:
    """Whether every date says itself which number is what: ISO, a month's name or a spreadsheet's date."""
    matches = [match for cell in cells if isinstance(cell, str) and (match := _NUMBERED.match(cell))]
    return all(len(match[1]) == 4 for match in matches)


def _by_mark(match: re.Match[str]) -> DateOrder | None:
    if len(match[1]) == 4:
        return "year-month-day"
    return "day-month" if match["mark"] == "." else None


def _by_numbers(match: re.Match[str]) -> DateOrder | None:
    order = _by_mark(match)
    if order is None and int(match[1]) > 12:
        return "day-month"
    return "month-day" if order is None and int(match[3]) > 12 else order


def _day(first: str, second: str, third: str, order: DateOrder | None) -> date:
    if order is None:
        raise ValueError(f"'{first}/{second}/{third}' may be day or month first")
    if order == "year-month-day":
        return _dated(first, int(second), third)
    day, month = (first, second) if order == "day-month" else (second, first)
    return _dated(third, int(month), day)


def _dated(year: str, month: int, day: str) -> date:
    return date(int(year) + (CENTURY if len(year) == 2 else 0), month, int(day))


def _month(name: str) -> int:
    if name[:3].lower() not in MONTHS:
        raise ValueError(f"'{name}' is no month")
    return MONTHS.index(name[:3].lower()) + 1


def _clocked(day: date, clock: list[str | None], cell: str) -> datetime:
    hour, minute, second, half, offset = clock
    if hour is None or minute is None:
        raise ValueError(f"'{cell}' has no time of day")
    hours = int(hour)
    if half:
        if not 1 <= hours <= 12:
            raise ValueError(f"'{cell}' has no such hour on a twelve-hour clock")
        hours = hours % 12 + (12 if half[0] in "pP" else 0)
    at = datetime.combine(day, time(hours, int(minute), int(second or 0)))
    return at if offset is None else at.replace(tzinfo=read_zone(offset))
