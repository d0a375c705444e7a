"""When lines run, rooms are used and surfaces are cleaned."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from shapely.geometry import LineString, Polygon

from swabwright.errors import SwabwrightError
from swabwright.plant.document import Plant
from swabwright.plant.lines import Line
from swabwright.plant.rooms import Room
from swabwright.spread.hours import Span, joined, spans_of, without


@dataclass(frozen=True)
class CleaningEnd:
    """The moment at which a cleaning ends, what kind it was and which rows it reaches."""

    at: datetime
    kind: str
    rooms: frozenset[str]
    lines: frozenset[str]


@dataclass(frozen=True)
class Schedule:
    """Running spans by clock (`line:<id>`, `room:<id>`) and the ends of all cleanings over some days."""

    running: dict[str, list[Span]]
    cleanings: tuple[CleaningEnd, ...]


def schedule_of(plant: Plant, days: Iterable[date]) -> Schedule:
    """The schedule of a plant over these days, in its own time zone."""
    zone, days = zone_of(plant), tuple(days)
    lines = {line.id: line_spans(line, days, zone) for line in plant.lines}
    rooms = {room.id: _room_spans(plant, room, lines, (days, zone)) for room in plant.rooms}
    running = {f"line:{name}": spans for name, spans in lines.items()}
    running |= {f"room:{name}": spans for name, spans in rooms.items()}
    return Schedule(running, tuple(_cleanings(plant, days, zone)))


def zone_of(plant: Plant) -> ZoneInfo:
    """The plant's time zone; an unknown name is refused."""
    try:
        return ZoneInfo(plant.timezone)
    except (KeyError, ValueError, OSError):
        raise SwabwrightError(
            f"plant.json: timezone: no time zone '{plant.timezone}'; use an IANA name such as Europe/Paris"
        ) from None


def line_spans(line: Line, days: tuple[date, ...], zone: ZoneInfo) -> list[Span]:
    """When a line runs: its hours less its breaks and agreed stops."""
    runs = spans_of(line.runs, days, zone)
    stops = [(stop.starts_at, stop.ends_at) for stop in line.agreed_stops]
    return without(without(runs, spans_of(line.breaks, days, zone)), stops)


def _room_spans(
    plant: Plant, room: Room, lines: dict[str, list[Span]], when: tuple[tuple[date, ...], ZoneInfo]
) -> list[Span]:
    """A room is used when it says so, else while a line in it runs, else while any line runs."""
    if room.in_use:
        return spans_of(room.in_use, *when)
    inside = {line.id for line in plant.lines if LineString(line.path).intersects(Polygon(room.outline))}
    inside |= {site.line for site in plant.sites if site.room == room.id and site.line}
    return joined(span for name in (inside or lines) for span in lines.get(name, []))


def _cleanings(plant: Plant, days: tuple[date, ...], zone: ZoneInfo) -> list[CleaningEnd]:
    ends = [
        CleaningEnd(end, cleaning.kind, frozenset(cleaning.rooms), frozenset(cleaning.lines))
        for cleaning in plant.cleanings
        for _, end in spans_of(cleaning.when, days, zone)
    ]
    return sorted(ends, key=lambda end: (end.at, end.kind))
