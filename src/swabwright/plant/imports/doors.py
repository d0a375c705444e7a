"""Doors: a place and a width from lines, arcs or symbols, and the rooms found on either side."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, cos, dist, sin

from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.drawing import Block, Drawing, Shape
from swabwright.plant.imports.outlines import middle_line, spot
from swabwright.plant.model import Point
from swabwright.plant.rooms import OUTSIDE, Door, Room

TOUCHING_M = 0.12
"""Door leaf and swing drawn this near each other are one door."""
LEAVES = 2
PROBES = 6
"""Places looked at on each side of a door, up to the reach of it."""


@dataclass(frozen=True)
class Opening:
    """A way that a drawn door may lie: its middle, its width, and the direction along the wall, if known."""

    at: Point
    width_m: float
    along: float | None


def make_doors(context: Context, rooms: Sequence[Room]) -> tuple[Door, ...]:
    """Every door that joins two rooms, or a room and outside; marks that join nothing are put aside."""
    floors = {room.id: Polygon(room.outline) for room in rooms}
    reach = context.words.number("door.reach_m")
    doors: list[Door] = []
    for openings in _drawn_doors(context.drawn("doors"), context.words.number("door.width_m")):
        joined = [(opening, *_sides(opening, floors, reach)) for opening in openings]
        good = [each for each in joined if each[1] != each[2]]
        if not good:
            context.notes.put_aside(
                f"{context.drawing.name}, doors, at {spot(openings[0].at)}", "", "joins no two rooms"
            )
            continue
        # A door between rooms that could also lead outside is one between rooms.
        opening, first, second = min(good, key=lambda each: OUTSIDE in each[1:])
        doors.append(_door(context, opening, (first, second), len(doors) + 1))
    return tuple(doors)


def _door(context: Context, opening: Opening, joins: tuple[str, str], number: int) -> Door:
    return Door(
        id=f"door-{number}",
        joins=joins,
        at=(round(opening.at[0], 3), round(opening.at[1], 3)),
        width_m=round(opening.width_m, 3),
    )


def _drawn_doors(drawing: Drawing, usual_width: float) -> list[list[Opening]]:
    """The openings each drawn door may be: symbols, and lines and arcs that touch taken together."""
    symbols = [_openings_of_block(block, usual_width) for block in drawing.blocks]
    layers = {block.layer for block in drawing.blocks}
    loose = [shape for shape in drawing.shapes if shape.of_symbol not in layers]
    return symbols + [_openings_of_group(group) for group in _groups(loose)]


def _openings_of_block(block: Block, usual_width: float) -> list[Opening]:
    """A symbol stands in the middle of its opening or at its hinge."""
    width = block.width or usual_width
    # Symbols are drawn about their middle or their hinge; the reading that joins two rooms is right.
    half = (cos(block.turned) * width / 2, sin(block.turned) * width / 2)
    middle = (block.at[0] + half[0], block.at[1] + half[1])
    return [
        Opening(block.at, width, block.turned),
        Opening(middle, width, block.turned),
        Opening(block.at, width, None),
    ]


def _groups(shapes: Sequence[Shape]) -> list[list[Shape]]:
    """Shapes that touch, directly or through others, together."""
    groups: list[list[Shape]] = []
    for shape in shapes:
        line = LineString(shape.points)
        near = [group for group in groups if any(line.distance(LineString(o.points)) < TOUCHING_M for o in group)]
        merged = [shape] + [member for group in near for member in group]
        groups = [group for group in groups if group not in near] + [merged]
    return groups


def _openings_of_group(group: Sequence[Shape]) -> list[Opening]:
    """With a swing: from the hinge to either end of it; else the longest line, from end to end."""
    swings = [shape for shape in group if shape.centre is not None]
    hinges = [shape.centre for shape in swings if shape.centre is not None]
    if len(hinges) == LEAVES and dist(*hinges) > TOUCHING_M:
        # Two leaves that meet in the middle: the opening reaches from hinge to hinge.
        return [_between(hinges[0], hinges[1])]
    if swings:
        # The leaf is drawn open, so it cannot be seen from the swing which end lies in the wall: both are tried.
        return [_between(hinge, end) for swing, hinge in zip(swings, hinges, strict=True) for end in _ends(swing)]
    longest = max(group, key=lambda shape: LineString(shape.points).length)
    ends = middle_line(longest.points) if longest.closed else (longest.points[0], longest.points[-1])
    return [_between(*ends)]


def _ends(shape: Shape) -> tuple[Point, Point]:
    return shape.points[0], shape.points[-1]


def _between(start: Point, end: Point) -> Opening:
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    return Opening(middle, max(dist(start, end), 0.1), atan2(end[1] - start[1], end[0] - start[0]))


def _sides(opening: Opening, floors: dict[str, Polygon], reach: float) -> tuple[str, str]:
    """The room met first on either side of the opening within reach, or outside."""
    along = opening.along if opening.along is not None else _wall_direction(opening.at, floors)
    across = (-sin(along), cos(along))
    return _first_room(opening.at, across, floors, reach), _first_room(
        opening.at, (-across[0], -across[1]), floors, reach
    )


def _first_room(at: Point, way: Point, floors: dict[str, Polygon], reach: float) -> str:
    for step in range(1, PROBES + 1):
        ahead = reach * step / PROBES
        probe = ShapelyPoint(at[0] + way[0] * ahead, at[1] + way[1] * ahead)
        for room, floor in floors.items():
            if floor.contains(probe):
                return room
    return OUTSIDE


def _wall_direction(at: Point, floors: dict[str, Polygon]) -> float:
    """Direction of the piece of wall nearest to a point, in radians."""
    pieces = [
        (LineString(pair).distance(ShapelyPoint(at)), pair)
        for floor in floors.values()
        for pair in zip(floor.exterior.coords, floor.exterior.coords[1:], strict=False)
    ]
    (start, end) = min(pieces)[1]
    return atan2(end[1] - start[1], end[0] - start[0])
