"""Hours of the lines: runs, breaks and agreed stops from a sheet, or the usual day shift as a default."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, time
from typing import cast
from zoneinfo import ZoneInfo

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.hours import period, read_date, read_days, read_time
from swabwright.plant.times import AgreedStop, Period, Weekday
from swabwright.tables.table import Row


@dataclass
class Hours:
    """When one line runs, rests and stands by agreement."""

    runs: list[Period] = field(default_factory=list)
    breaks: list[Period] = field(default_factory=list)
    agreed_stops: list[AgreedStop] = field(default_factory=list)


def line_hours(context: Context, lines: Mapping[str, str], timezone: str) -> dict[str, Hours]:
    """The hours of each line (`lines`: id to name); a row that names no line is for all of them."""
    hours: dict[str, Hours] = defaultdict(Hours)
    for row in context.rows("schedule"):
        for line in _lines_of(row, context, lines):
            _add(row, line, hours[line], (context, timezone))
    # A line without running hours has no production to be sampled in.
    for line in lines:
        if not hours[line].runs:
            _assume_shift(line, hours[line], context)
    return dict(hours)


def _lines_of(row: Row, context: Context, lines: Mapping[str, str]) -> tuple[str, ...]:
    text = row.text("line")
    if not text or text.casefold() in ("all", "all lines", "every line"):
        return tuple(lines)
    found = context.find(text, lines, "line")
    if found is None:
        context.notes.put_aside(row.where, text, "no line of this name")
    return (found,) if found else ()


def _add(row: Row, line: str, hours: Hours, given: tuple[Context, str]) -> None:
    context, _ = given
    what = context.words.means(row.text("what") or "run", "agreed_stop", "break", "runs")
    starts, ends = read_time(row.cells.get("starts_at")), read_time(row.cells.get("ends_at"))
    if what is None or starts is None or ends is None:
        problem = "is no run, break or agreed stop" if what is None else "has no start and end as times of day"
        context.notes.fault(row.where, f"'{row.text('what')}' {problem}")
    elif what == "agreed_stop":
        _add_stop(row, hours, (starts, ends), given)
    else:
        days = days_of(row, context, f"lines[{line}].{'runs' if what == 'runs' else 'breaks'}")
        (hours.runs if what == "runs" else hours.breaks).append(period(days, starts, ends))


def days_of(row: Row, context: Context, path: str) -> tuple[Weekday, ...]:
    """The weekdays of a row; words that are no day are a fault, an empty cell is the usual week, unconfirmed."""
    text = row.text("days")
    usual = cast("tuple[Weekday, ...]", tuple(context.words.data["hours"]["days"]))
    if not text:
        context.notes.assume(path, f"{row.where} names no days; {usual[0]} to {usual[-1]} taken")
        return usual
    if context.words.means(text, "every_day"):
        return ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    if context.words.means(text, "weekdays"):
        return ("mon", "tue", "wed", "thu", "fri")
    days = read_days(text)
    if days is None:
        context.notes.fault(row.where, f"'{text}' names no weekdays; write Mon-Fri or Mon, Wed")
    return days or usual


def _add_stop(row: Row, hours: Hours, times: tuple[time, time], given: tuple[Context, str]) -> None:
    context, timezone = given
    day = read_date(row.cells.get("date") or row.cells.get("days"))
    if day is None:
        context.notes.fault(row.where, "an agreed stop needs its date, as 2026-03-05")
        return
    # Dates with strokes are read day first; showing every one lets a reader of the other habit notice.
    context.notes.guess(f"{row.where}: the agreed stop is on {day:%A}, {day.isoformat()}")
    zone = ZoneInfo(timezone)
    starts, ends = (datetime.combine(day, clock, tzinfo=zone) for clock in times)
    agreed = row.text("agreed_by")
    if not agreed:
        context.notes.guess(f"{row.where}: does not say who agreed to the stop; 'not stated' is written")
    hours.agreed_stops.append(AgreedStop(starts_at=starts, ends_at=ends, agreed_by=agreed or "not stated"))


def _assume_shift(line: str, hours: Hours, context: Context) -> None:
    usual = context.words.data["hours"]
    days = cast("tuple[Weekday, ...]", tuple(usual["days"]))
    context.notes.assume(f"lines[{line}].runs", f"no schedule says it; {usual['source']}")
    hours.runs.append(period(days, *map(time.fromisoformat, usual["runs"])))
    if not hours.breaks:
        context.notes.assume(f"lines[{line}].breaks", f"no schedule says it; {usual['source']}")
        hours.breaks.append(period(days, *map(time.fromisoformat, usual["break"])))
