"""Shapes in the plant document that cannot be: crossing outlines, overlapping rooms, doors and sites off the floor."""

from collections.abc import Iterator, Mapping
from itertools import combinations

from shapely import LineString, Polygon
from shapely import Point as Spot
from shapely.validation import explain_validity

from swabwright.errors import Fault
from swabwright.plant.document import Plant
from swabwright.plant.model import Point
from swabwright.plant.rooms import OUTSIDE
from swabwright.plant.space.doorways import DOOR_OFF_WALL_M
from swabwright.plant.space.floor import OVERLAP_M2, WALL_M

LEAST_AREA_M2 = 1e-4
"""An outline that encloses less than one square centimetre is a line, not a thing."""

NESTED_SHARE = 0.95
"""A room that lies in another with this share of its floor is drawn inside it, and is cut out of it."""

Rooms = Mapping[str, Polygon]


def geometry_faults(plant: Plant) -> tuple[Fault, ...]:
    """Every impossible shape, and everything that lies off its room; shapes that cross themselves are told alone."""
    # Areas and distances of a crossing outline mean nothing, so nothing else is judged until it is mended.
    outlines = tuple(_outline_faults(plant))
    if outlines:
        return outlines
    rooms = {room.id: Polygon(room.outline) for room in plant.rooms}
    return (
        *_overlap_faults(plant, rooms),
        *_door_faults(plant, rooms),
        *_machine_faults(plant, rooms),
        *_spot_faults(plant, rooms),
        *_way_faults(plant, rooms),
    )


def _outline_faults(plant: Plant) -> Iterator[Fault]:
    for kind in ("rooms", "equipment", "overhead"):
        for place, entry in enumerate(getattr(plant, kind)):
            problem = outline_problem(entry.outline)
            if problem:
                yield Fault(f"{kind}[{place}].outline", f"'{entry.id}' {problem}")


def outline_problem(outline: tuple[Point, ...]) -> str | None:
    """What is wrong with an outline and how to mend it, or None."""
    shape = Polygon(outline)
    if shape.area < LEAST_AREA_M2 and (
        shape.is_valid or len(set(outline)) < 3 or shape.convex_hull.area < LEAST_AREA_M2
    ):
        return "encloses no area; draw its corners in order"
    if not shape.is_valid:
        where = explain_validity(shape).partition("[")[2].rstrip("]").replace(" ", ", ")
        return f"crosses or touches itself near ({where}); draw its corners in order"
    return None


def _overlap_faults(plant: Plant, rooms: Rooms) -> Iterator[Fault]:
    for (first, a), (second, b) in combinations(enumerate(plant.rooms), 2):
        one, other = rooms[a.id], rooms[b.id]
        shared = one.intersection(other).area if one.intersects(other) else 0.0
        if shared > OVERLAP_M2 and not _nested(one, other, shared):
            yield Fault(
                f"rooms[{second}].outline",
                f"'{b.id}' lies over '{a.id}' (rooms[{first}]) by {shared:.1f} m2; draw the wall between them once",
            )


def _nested(one: Polygon, other: Polygon, shared: float) -> bool:
    """Whether one room is drawn inside the other (an office in a hall), which is meant; half over it is a slip."""
    small, large = sorted((one.area, other.area))
    return bool(shared >= NESTED_SHARE * small and small < NESTED_SHARE * large)


def _door_faults(plant: Plant, rooms: Rooms) -> Iterator[Fault]:
    for place, door in enumerate(plant.doors):
        for room in door.joins:
            # A name that no room bears is told elsewhere; here only what can be measured.
            metres = rooms[room].exterior.distance(Spot(door.at)) if room in rooms else 0.0
            if room != OUTSIDE and metres > DOOR_OFF_WALL_M:
                yield Fault(
                    f"doors[{place}].at",
                    f"'{door.id}' lies {metres:.1f} m off the walls of '{room}', which it joins; "
                    "move it onto the wall or name the right room",
                )


def _machine_faults(plant: Plant, rooms: Rooms) -> Iterator[Fault]:
    for kind in ("equipment", "overhead"):
        for place, entry in enumerate(getattr(plant, kind)):
            if entry.room in rooms and not rooms[entry.room].intersects(Polygon(entry.outline)):
                yield Fault(
                    f"{kind}[{place}].outline",
                    f"'{entry.id}' lies outside its room '{entry.room}'; {_where(entry.outline[0], rooms)}",
                )


def _spot_faults(plant: Plant, rooms: Rooms) -> Iterator[Fault]:
    for place, site in enumerate(plant.sites):
        yield from _off_room(f"sites[{place}].position", f"site {site.code}", (site.room, site.position), rooms)
    for place, unit in enumerate(plant.air):
        yield from _off_room(f"air[{place}].at", f"'{unit.id}'", (unit.room, unit.at), rooms)
    if all(shape.distance(Spot(plant.base)) > WALL_M for shape in rooms.values()):
        yield Fault("base", f"the clean base at {_at(plant.base)} lies in no room; put it where the kit is laid out")


def _way_faults(plant: Plant, rooms: Rooms) -> Iterator[Fault]:
    for kind in ("lines", "routes", "drains"):
        for place, way in enumerate(getattr(plant, kind)):
            if not any(shape.intersects(LineString(way.path)) for shape in rooms.values()):
                yield Fault(
                    f"{kind}[{place}].path", f"'{way.id}' runs through no room; draw it on the floor, or take it out"
                )


def _off_room(path: str, name: str, placed: tuple[str, Point], rooms: Rooms) -> Iterator[Fault]:
    room, position = placed
    metres = rooms[room].distance(Spot(position)) if room in rooms else 0.0
    if metres > WALL_M:
        yield Fault(path, f"{name} lies {metres:.1f} m outside its room '{room}'; {_where(position, rooms)}")


def _where(position: Point, rooms: Rooms) -> str:
    inside = [name for name, shape in rooms.items() if shape.covers(Spot(position))]
    return f"{_at(position)} is in '{inside[0]}'" if inside else f"no room holds {_at(position)}"


def _at(position: Point) -> str:
    return f"({position[0]:g}, {position[1]:g})"
