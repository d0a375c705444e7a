"""Things above the floor: pipes, evaporators, ducts and platforms, and units that blow air."""

from collections.abc import Iterator, Sequence
from typing import Literal

from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.drains import NAME_REACH_M
from swabwright.plant.imports.drawing import Drawing
from swabwright.plant.imports.equipment import room_of
from swabwright.plant.imports.labels import name_beside, name_inside
from swabwright.plant.imports.names import make_id
from swabwright.plant.imports.outlines import ring_of, spot
from swabwright.plant.model import Point
from swabwright.plant.rooms import AirUnit, Overhead, Room

PIPE_HALF_WIDTH_M = 0.1
"""A pipe drawn as a line is given this half width, lagging included."""

OverheadKind = Literal["pipe", "evaporator", "ceiling", "duct", "platform"]
KINDS: dict[str, OverheadKind] = {
    "pipe": "pipe",
    "evaporator": "evaporator",
    "ceiling": "ceiling",
    "duct": "duct",
    "platform": "platform",
}


def make_overhead(context: Context, rooms: Sequence[Room]) -> tuple[Overhead, ...]:
    """Every outline or line on the layer of overhead things, in the room it hangs in most."""
    drawing = context.drawn("overhead")
    found: list[Overhead] = []
    for outline in _outlines(drawing):
        room = room_of(outline, rooms)
        if room is None:
            where = spot(outline.representative_point().coords[0])
            context.notes.put_aside(f"{drawing.name}, overhead at {where}", "", "hangs in no room")
            continue
        name = name_inside(outline, drawing.labels) or name_beside(outline.exterior, drawing.labels, NAME_REACH_M)
        found.append(_overhead(context, (outline, room), name, [each.id for each in found]))
    return tuple(found)


def _outlines(drawing: Drawing) -> Iterator[Polygon]:
    # Pipes are drawn as lines, coolers and platforms as outlines; both hang over an area.
    for shape in drawing.shapes:
        outline = Polygon(shape.points) if shape.closed and len(shape.points) > 3 else None
        if outline is None or not outline.is_valid or outline.area == 0:
            outline = LineString(shape.points).buffer(PIPE_HALF_WIDTH_M, cap_style="flat", join_style="mitre")
        if isinstance(outline, Polygon) and not outline.is_empty:
            yield outline


def _overhead(context: Context, place: tuple[Polygon, str], name: str | None, taken: list[str]) -> Overhead:
    outline, room = place
    identifier = make_id(name or "overhead", taken, "overhead")
    kind = KINDS.get(context.words.means(name or "", *KINDS) or "")
    if kind is None:
        kind = "pipe"
        context.notes.assume(f"overhead[{identifier}].kind", "its name does not say what it is; taken for a pipe")
    context.notes.assume(f"overhead[{identifier}].drips", "nobody has said whether it drips; taken to drip")
    return Overhead(
        id=identifier, name=name or "Overhead pipe", kind=kind, room=room, outline=ring_of(outline), drips=True
    )


def make_air(context: Context, rooms: Sequence[Room]) -> tuple[AirUnit, ...]:
    """Every symbol or closed outline on the layer of air units; a line from it shows where it blows."""
    drawing = context.drawn("air")
    floors = {room.id: Polygon(room.outline) for room in rooms}
    places: list[tuple[Point, str | None]] = [
        (block.at, next(iter(block.attributes.values()), None)) for block in drawing.blocks
    ]
    places += [(_middle(shape.points), None) for shape in drawing.shapes if shape.closed and not drawing.blocks]
    units: list[AirUnit] = []
    for at, name in places:
        room = next((key for key, floor in floors.items() if floor.covers(ShapelyPoint(at))), None)
        if room is None:
            context.notes.put_aside(f"{drawing.name}, air unit at {spot(at)}", name or "", "stands in no room")
            continue
        units.append(_air_unit(context, drawing, (at, name, room), len(units) + 1))
    return tuple(units)


def _air_unit(context: Context, drawing: Drawing, place: tuple[Point, str | None, str], number: int) -> AirUnit:
    at, name, room = place
    identifier = f"air-{number}"
    named = name or name_beside(LineString([at, at]), drawing.labels, NAME_REACH_M) or f"Air unit {number}"
    towards = _towards(at, drawing)
    reach = context.words.number("air.reach_m")
    context.notes.assume(f"air[{identifier}].reach_m", f"nobody has said how far it blows; {reach:g} m taken")
    if towards is None:
        context.notes.assume(
            f"air[{identifier}].blows_towards", "no line shows where it blows; taken to blow all round"
        )
    return AirUnit(id=identifier, name=named, room=room, at=_rounded(at), blows_towards=towards, reach_m=reach)


def _towards(at: Point, drawing: Drawing) -> Point | None:
    """The far end of an open line that begins at the unit."""
    here = ShapelyPoint(at)
    for shape in drawing.shapes:
        if not shape.closed:
            ends = sorted((shape.points[0], shape.points[-1]), key=lambda end: here.distance(ShapelyPoint(end)))
            if here.distance(ShapelyPoint(ends[0])) <= NAME_REACH_M:
                return _rounded(ends[1])
    return None


def _middle(points: Sequence[Point]) -> Point:
    centre = LineString(points).envelope.centroid
    return (float(centre.x), float(centre.y))


def _rounded(point: Point) -> Point:
    return (round(point[0], 3), round(point[1], 3))
