"""The shell of the plant: hatched walls, doors in them, and the barriers at the doors."""

from dataclasses import dataclass
from itertools import combinations, pairwise
from math import atan2, cos, degrees, hypot, sin
from statistics import median

from shapely import LineString, Point, Polygon, box
from shapely.affinity import rotate, translate
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from swabwright.plant.document import Plant
from swabwright.plant.rooms import OUTSIDE, Door
from swabwright.reports.frame import Dot, Frame, d, outlines
from swabwright.reports.hatch import hatched
from swabwright.reports.tokens import HAIR_MM, WALL_MM

HATCH_MM = 0.8
WALL_EDGE_MM = 0.32
NEIGHBOURS_MM = 4.0
"""Rooms nearer than this on paper share a wall."""
ROLLER_MM = 7.0
"""Wider outer openings are drawn as dashed, narrower doors with a leaf."""


@dataclass(frozen=True)
class Opening:
    """A door on paper: its middle, the wall's direction, its width, and the side of its second room."""

    door: Door
    at: Dot
    along: Dot
    width_mm: float
    into: Dot
    """Unit vector from the wall into the cleaner of the two rooms, or indoors."""

    def place(self, along_mm: float, into_mm: float) -> Dot:
        """A point measured from the middle along the wall and into the room."""
        return (
            self.at[0] + self.along[0] * along_mm + self.into[0] * into_mm,
            self.at[1] + self.along[1] * along_mm + self.into[1] * into_mm,
        )


def rooms_on_paper(plant: Plant, frame: Frame) -> dict[str, Polygon]:
    """The inner outline of every room in millimetres, by room id."""
    return {room.id: Polygon(frame.points(room.outline)) for room in plant.rooms}


def openings(plant: Plant, frame: Frame) -> tuple[Opening, ...]:
    """Every door with the direction of the wall that it stands in."""
    rooms = rooms_on_paper(plant, frame)
    classes = {room.id: room.hygiene_class for room in plant.rooms} | {OUTSIDE: 99}
    return tuple(_opening(door, rooms, frame, min(door.joins, key=lambda r: classes[r])) for door in plant.doors)


def _opening(door: Door, rooms: dict[str, Polygon], frame: Frame, cleaner: str) -> Opening:
    at, inside = frame.point(door.at), rooms[cleaner]
    ring = list(inside.exterior.coords)
    # the drawing gives a door's middle only: the nearest wall tells which way it lies
    first, second = min(pairwise(ring), key=lambda edge: LineString(edge).distance(Point(at)))
    angle = atan2(second[1] - first[1], second[0] - first[0])
    along, into = (cos(angle), sin(angle)), (-sin(angle), cos(angle))
    probe = Point(at[0] + into[0] * WALL_MM * 2, at[1] + into[1] * WALL_MM * 2)
    if not inside.contains(probe):
        into = (-into[0], -into[1])
    return Opening(door, at, along, door.width_m * frame.mm_per_m, into)


def walls(plant: Plant, frame: Frame) -> BaseGeometry:
    """The walls as one shape in millimetres, thick enough to hatch, open at the doors."""
    rooms = list(rooms_on_paper(plant, frame).values())
    gap = _gap(rooms)
    # rooms drawn wall to wall give up paper on both sides; rooms drawn with a gap keep their floor
    inwards = max(0.0, (WALL_MM - gap) / 2)
    outwards = max(WALL_MM - inwards, gap / 2 + 0.01)
    solid = unary_union([room.buffer(outwards, join_style="mitre") for room in rooms])
    hollow = unary_union([room.buffer(-inwards, join_style="mitre") for room in rooms])
    cuts = [_cut(opening, outwards + gap) for opening in openings(plant, frame)]
    return solid.difference(hollow).difference(unary_union(cuts))


def _gap(rooms: list[Polygon]) -> float:
    gaps = [first.distance(second) for first, second in combinations(rooms, 2)]
    return median([gap for gap in gaps if gap < NEIGHBOURS_MM] or [0.0])


def _cut(opening: Opening, reach: float) -> BaseGeometry:
    half = opening.width_mm / 2
    slot = box(-half, -reach, half, reach)
    turned = rotate(slot, degrees(atan2(opening.along[1], opening.along[0])), origin=(0, 0))
    return translate(turned, *opening.at)


def shell_svg(plant: Plant, frame: Frame) -> str:
    """Walls, doors and hygiene barriers as SVG."""
    solid = walls(plant, frame)
    parts = [
        f'<path d="{outlines(hatched(solid, HATCH_MM))}" stroke-width="{HAIR_MM}"/>',
        f'<path d="{outlines(solid)}" stroke-width="{WALL_EDGE_MM}"/>',
    ]
    for opening in openings(plant, frame):
        parts.append(_door(opening))
        if opening.door.barrier != "none":
            parts.append(_barrier(opening))
    return f'<g id="shell" fill="none" stroke="#000">{"".join(parts)}</g>'


def _door(opening: Opening) -> str:
    if OUTSIDE in opening.door.joins:
        return _roller(opening)
    if opening.width_mm > ROLLER_MM:
        # the barrier's own bars mark a wide door; dashes under them would only muddle a copy
        return _roller(opening) if opening.door.barrier == "none" else ""
    return _leaf(opening)


def _roller(opening: Opening) -> str:
    half, deep = opening.width_mm / 2, WALL_MM / 2
    sides = d([opening.place(-half, -deep), opening.place(half, -deep)])
    sides += d([opening.place(-half, deep), opening.place(half, deep)])
    return f'<path d="{sides}" stroke-width="{WALL_EDGE_MM}" stroke-dasharray="1.3 0.7"/>'


def _leaf(opening: Opening) -> str:
    half = opening.width_mm / 2
    edge = WALL_MM / 2
    hinge, tip, other = (
        opening.place(-half, edge),
        opening.place(-half, edge + opening.width_mm),
        opening.place(half, edge),
    )
    cross = (other[0] - hinge[0]) * (tip[1] - hinge[1]) - (other[1] - hinge[1]) * (tip[0] - hinge[0])
    radius = hypot(tip[0] - hinge[0], tip[1] - hinge[1])
    arc = f"A{radius:.2f} {radius:.2f} 0 0 {int(cross < 0)} {other[0]:.2f} {other[1]:.2f}"
    return f'<path d="{d([hinge, tip])}{arc}" stroke-width="{HAIR_MM}"/>'


def _barrier(opening: Opening) -> str:
    """A bar between two hairlines, on the cleaner side of the door."""
    half, start = opening.width_mm / 2, WALL_MM / 2 + 0.55
    stripes = ((0.0, HAIR_MM), (0.95, 0.9), (1.9, HAIR_MM))
    lines = [
        f'<path d="{d([opening.place(-half, start + at), opening.place(half, start + at)])}" stroke-width="{weight}"/>'
        for at, weight in stripes
    ]
    # the ground under the bars keeps them apart from a walk or a drain that passes here
    ground = d([opening.place(-half, start - 0.3), opening.place(half, start - 0.3), opening.place(half, start + 2.3),
                opening.place(-half, start + 2.3)], closed=True)  # fmt: skip
    return f'<path d="{ground}" fill="#fff" stroke="none"/>' + "".join(lines)
