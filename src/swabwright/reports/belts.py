"""The product's way along a line: belts between machines, chevrons elsewhere, one arrow at the infeed."""

from math import atan2

import shapely
from shapely import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from swabwright.plant.document import Plant
from swabwright.reports.frame import Dot, Frame, d, outlines
from swabwright.reports.strokes import along, behind, chevron
from swabwright.reports.tokens import HAIR_MM

BELT_M = 0.75
LONGEST_BELT_M = 8.0
"""A longer stretch without a machine is a way that product is carried, not a belt."""
TOUCHING_M = 0.3
CHEVRON_EVERY_MM, CARRIED_EVERY_MM = 4.2, 9.0
CLEAR_MM = 1.2
INFEED_MM = 0.55


def line_parts(plant: Plant, frame: Frame) -> list[str]:
    """Every line of the plant as SVG parts."""
    machines = unary_union([Polygon(frame.points(machine.outline)) for machine in plant.equipment])
    rooms = [Polygon(frame.points(room.outline)) for room in plant.rooms]
    return [_line(frame.points(line.path), machines, rooms, frame) for line in plant.lines]


def _line(path: list[Dot], machines: BaseGeometry, rooms: list[Polygon], frame: Frame) -> str:
    belts = [_belt(piece, machines, frame) for room in rooms for piece in _pieces(path, machines, room, frame)]
    return "".join(belts) + _chevrons(path, machines) + _infeed(path)


def _pieces(path: list[Dot], machines: BaseGeometry, room: Polygon, frame: Frame) -> list[BaseGeometry]:
    """The stretches of a line in one room that are belts: short, from machine to machine or to an end of the line."""
    within = LineString(path).intersection(room).difference(machines)
    # product is carried, not conveyed, where the drawn line leaves the machines behind
    ends = unary_union([machines, Point(path[0]), Point(path[-1])]).buffer(TOUCHING_M * frame.mm_per_m)
    short = [p for p in shapely.get_parts(within) if 0 < p.length <= LONGEST_BELT_M * frame.mm_per_m]
    return [p for p in short if isinstance(p, LineString) and ends.covers(p.boundary)]


def _belt(piece: BaseGeometry, machines: BaseGeometry, frame: Frame) -> str:
    wide = BELT_M * frame.mm_per_m / 2
    belt = piece.buffer(wide, cap_style="flat", join_style="mitre").difference(machines)
    return f'<path d="{outlines(belt)}" fill="#fff" stroke-width="{HAIR_MM}"/>'


def _chevrons(path: list[Dot], machines: BaseGeometry) -> str:
    """Chevrons the way the product goes, none on a machine."""
    places = along(path, CHEVRON_EVERY_MM, CHEVRON_EVERY_MM / 2)
    shown = [
        (at, angle) for at, angle in places if machines.distance(LineString([at, behind(at, angle, CLEAR_MM)])) > 0
    ]
    near = [(at, angle) for at, angle in shown if machines.distance(Point(at)) < CARRIED_EVERY_MM]
    # half as many where nothing stands: they say the way, not a belt
    far = [place for place in shown if place not in near][::2]
    return "".join(chevron(at, angle, 0.8, 0.8) for at, angle in (*near, *far))


def _infeed(path: list[Dot]) -> str:
    start, following = path[0], path[1]
    angle = atan2(following[1] - start[1], following[0] - start[0])
    shaft = d([behind(start, angle, 3.6), start])
    return f'<path d="{shaft}" stroke-width="{INFEED_MM}"/>{chevron(start, angle, 1.0, 1.3, INFEED_MM)}'
