"""Days and hours as plants write them: `Mon-Fri`, `daily`, `6:00`, `6am`, a time cell."""

import re
from datetime import date, datetime, time, timedelta
from typing import get_args

from swabwright.plant.times import Period, Weekday
from swabwright.tables.grid import Cell

WEEK: tuple[Weekday, ...] = get_args(Weekday)
_TIME = re.compile(r"^(\d{1,2})(?:[:.h](\d{2}))?(?::\d{2})?\s*(am|pm|h)?$", re.IGNORECASE)
_RANGE = re.compile(r"\b([a-z]{2,9})\.?\s*(?:-|\u2013|to|through)\s*([a-z]{2,9})\b", re.IGNORECASE)
NOON = 12


def read_days(text: str) -> tuple[Weekday, ...] | None:
    """The weekdays named, in the order of the week; None when a word is no day."""
    words = [word for word in re.findall(r"[a-z]+", _RANGE.sub(" ", text), re.IGNORECASE) if word.casefold() != "and"]
    spans = [(_day(first), _day(last)) for first, last in _RANGE.findall(text)] + [(_day(word),) * 2 for word in words]
    # "Fri-Mon" runs over the weekend, as night crews write it.
    found: set[Weekday] = set()
    for first, last in spans:
        if first is None or last is None:
            return None
        found |= _span(first, last)
    return tuple(day for day in WEEK if day in found) or None


def _span(first: Weekday, last: Weekday) -> set[Weekday]:
    """The days from one to the other, over the end of the week when the last comes before the first."""
    start, end = WEEK.index(first), WEEK.index(last)
    return {WEEK[number % 7] for number in range(start, end + 1 + 7 * (end < start))}


def _day(word: str) -> Weekday | None:
    return next((day for day in WEEK if word.casefold().startswith(day)), None)


def read_time(cell: Cell) -> time | None:
    """The wall-clock time in a cell; a bare number below 1 is a share of the day, as spreadsheets store it."""
    if isinstance(cell, str):
        return _written_time(cell)
    if isinstance(cell, datetime):
        cell = cell.time()
    if isinstance(cell, time):
        return cell.replace(microsecond=0)
    if isinstance(cell, timedelta):
        return _of_day(cell.total_seconds() / 86_400)
    if isinstance(cell, float):
        return _of_day(cell) if cell < 1 else _clock(int(cell), 0)
    return None


def _written_time(text: str) -> time | None:
    match = _TIME.match(text.strip())
    if match is None:
        return None
    hour, minute, half = int(match.group(1)), int(match.group(2) or 0), (match.group(3) or "").lower()
    if half in ("am", "pm"):
        # 12 am is midnight and 12 pm is noon, so twelve counts as nought before the half day is added.
        hour = hour % NOON + NOON * (half == "pm")
    return _clock(hour, minute)


def _clock(hour: int, minute: int) -> time | None:
    return time(hour % 24, minute) if 0 <= hour <= 24 and minute < 60 else None


def _of_day(share: float) -> time:
    minutes = round(share * 24 * 60) % (24 * 60)
    return time(minutes // 60, minutes % 60)


def read_date(cell: Cell) -> date | None:
    """The date in a cell: a date, or text as 2026-03-05 or 05.03.2026 or 5/3/2026 (day first); None when none."""
    if isinstance(cell, datetime):
        return cell.date()
    if isinstance(cell, date):
        return cell
    if not isinstance(cell, str):
        return None
    for pattern in ("%Y-%m-%d", "%d.%m.%Y", "%d/%m/%Y", "%d %B %Y", "%d %b %Y"):
        try:
            return datetime.strptime(cell.strip(), pattern).date()  # noqa: DTZ007
        except ValueError:
            continue
    return None


def period(days: tuple[Weekday, ...], starts_at: time, ends_at: time) -> Period:
    """The same hours on each of these days."""
    return Period(days=days, starts_at=starts_at, ends_at=ends_at)
