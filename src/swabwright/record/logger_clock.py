"""The time column of a logger's file as moments: date order and time zone guessed, said, or asked for."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from swabwright.errors import DocumentRefused, Fault
from swabwright.record.logger_layout import Layout
from swabwright.record.logger_times import guess_order, joined_cells, read_time, tells_order
from swabwright.record.moments import read_zone
from swabwright.record.read_as import DateOrder
from swabwright.record.wall_clock import Clocked, on_the_clock, order_faults
from swabwright.tables.grid import Cell

NEWEST_FIRST = "The rows run from the newest to the oldest; read from below."


@dataclass(frozen=True)
class Times:
    """Seconds since 1970 UTC, rising, and how they came about."""

    seconds: tuple[int, ...]
    order: DateOrder | None
    zone: str | None
    newest_first: bool
    said: tuple[str, ...]


def read_times(layout: Layout) -> Times:
    """The moments of every row in order of time; `DocumentRefused` names the row, or the option that is needed."""
    cells = [(number, _time_cell(row, layout)) for number, row in layout.rows()]
    order, said_order = _order([cell for _, cell in cells], layout)
    local = _local(cells, order, layout)
    turned = _newest_first([at for _, at in local])
    if turned:
        local.reverse()
    zone = _zone(local, layout)
    clocked = _moments(local, zone, layout)
    layout.refuse(clocked.faults)
    layout.refuse(order_faults([row for row, _ in local], clocked.seconds))
    said = (*said_order, _said_zone(zone, layout), *([NEWEST_FIRST] if turned else []), *clocked.said)
    return Times(clocked.seconds, order, zone, turned, said)


def _time_cell(row: tuple[Cell, ...], layout: Layout) -> Cell:
    clock = row[layout.columns["time"]]
    return joined_cells(row[layout.columns["date"]], clock) if "date" in layout.columns else clock


def _order(cells: Sequence[Cell], layout: Layout) -> tuple[DateOrder | None, tuple[str, ...]]:
    if layout.asked.date_order or tells_order(cells):
        return layout.asked.date_order, ()
    order = guess_order(cells)
    if order is None:
        fault = f"'{cells[0]}' may be day or month first; say --date-order day-month or month-day"
        raise DocumentRefused(layout.name, [Fault("--date-order", fault)])
    return order, (f"Dates: {order}, from the dates themselves (--date-order overrules).",)


def _local(cells: Sequence[tuple[int, Cell]], order: DateOrder | None, layout: Layout) -> list[tuple[int, datetime]]:
    local, faults = [], []
    for row, cell in cells:
        try:
            local.append((row, read_time(cell, order)))
        except ValueError as error:
            faults.append(Fault(f"row {row}", f"{error}; leave the row out with --leave-out {row}, or export anew"))
    layout.refuse(faults)
    return local


def _newest_first(local: Sequence[datetime]) -> bool:
    whole = all(at.tzinfo for at in local)
    times = [at if whole else at.replace(tzinfo=None) for at in local]
    return len(times) > 1 and all(later < earlier for earlier, later in pairwise(times))


def _zone(local: Sequence[tuple[int, datetime]], layout: Layout) -> str | None:
    """The zone to read the times in; None when each has its own offset."""
    without = [(row, at) for row, at in local if at.tzinfo is None]
    asked = layout.asked.time_zone
    if not without:
        if asked:
            layout.refuse([Fault("--time-zone", "every time in the file has its own offset; leave the option out")])
        return None
    if len(without) < len(local):
        layout.refuse([Fault(f"row {without[0][0]}", "has no offset, while other rows have one; export the file anew")])
    zone = asked or layout.declared_zone
    if zone is None:
        fault = (
            f"the times of the file (the first is {without[0][1]:%Y-%m-%d %H:%M}) carry no offset; in which time zone "
            "ran the logger's clock? Give --time-zone Europe/Oslo, America/Chicago or +01:00"
        )
        raise DocumentRefused(layout.name, [Fault("--time-zone", fault)])
    return zone


def _moments(local: Sequence[tuple[int, datetime]], zone: str | None, layout: Layout) -> Clocked:
    if zone is None:
        return Clocked(tuple(round(at.timestamp()) for _, at in local))
    return on_the_clock(local, read_zone(zone))


def _said_zone(zone: str | None, layout: Layout) -> str:
    if zone is None:
        return "Times: each with its own offset."
    said = "as said" if layout.asked.time_zone else "from heading or lines above (--time-zone overrules)"
    return f"Time zone: {zone}, {said}."
