"""The floor of a room as a shape: its outline less the rooms drawn inside it, and where one can stand."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

from swabwright.plant.model import Point
from swabwright.plant.rooms import Room

CLEARANCE_M = 0.05
"""How far a way keeps from a wall, so that rounding never puts it into one."""

ROUNDING_M = 1e-6
"""Two drawings of the same wall may differ by so much without a gap."""

PIECE_M2 = 0.01
"""Slivers of floor below this are drawing noise."""


@dataclass(frozen=True)
class RoomShape:
    """A room's floor: `floor` is all of it, `standing` what is left a few centimetres off the walls."""

    room: Room
    floor: BaseGeometry
    standing: BaseGeometry
    corners: npt.NDArray[np.float64]
    """Corners one may have to walk around, shape (n, 2), in metres."""
    convex: bool

    @property
    def id(self) -> str:
        """The room's id in the plant document."""
        return self.room.id

    def stand(self, point: Point) -> Point:
        """Where one stands to reach `point`: itself when it lies off the walls, else the nearest such spot."""
        spot = ShapelyPoint(point)
        if self.standing.covers(spot):
            return point
        near = nearest_points(self.standing, spot)[0]
        return (near.x, near.y)

    def open_between(self, starts: npt.ArrayLike, ends: npt.ArrayLike) -> npt.NDArray[np.bool_]:
        """Whether the straight lines from `starts` to `ends`, shape (n, 2) each, stay on this floor."""
        ends_of_lines = np.stack([np.asarray(starts, float), np.asarray(ends, float)], axis=1)
        # Most rooms are convex: no line inside one has to be looked at.
        if self.convex:
            return np.full(len(ends_of_lines), True)
        lines = shapely.linestrings(ends_of_lines)
        return np.asarray(shapely.covers(self.floor, lines), dtype=bool)


def room_shapes(rooms: Sequence[Room]) -> dict[str, RoomShape]:
    """The floor of every room by its id; a room drawn inside another is taken out of the outer one."""
    outlines = {room.id: Polygon(room.outline) for room in rooms}
    return {room.id: _shape(room, outlines) for room in rooms}


def _shape(room: Room, outlines: dict[str, Polygon]) -> RoomShape:
    own = outlines[room.id]
    inner = [other for name, other in outlines.items() if name != room.id and _lies_inside(other, own)]
    floor = _without_slivers(own.difference(shapely.union_all(inner))) if inner else own
    standing = _eroded(floor)
    # Mitred, so that a corner stays one corner and adds no walls of micrometres.
    prepared = floor.buffer(ROUNDING_M, join_style="mitre")
    shapely.prepare(prepared)
    shapely.prepare(standing)
    corners = np.array(list(_reflex_corners(standing)), dtype=float).reshape(-1, 2)
    convex = len(corners) == 0 and standing.geom_type == "Polygon"
    return RoomShape(room, prepared, standing, corners, convex)


def _lies_inside(small: Polygon, large: Polygon) -> bool:
    if small.area >= large.area or not small.intersects(large):
        return False
    # Hand-drawn rooms overlap by a few centimetres; only nearly all of a room counts as inside.
    return bool(small.intersection(large).area > 0.95 * small.area)


def _without_slivers(shape: BaseGeometry) -> BaseGeometry:
    pieces = [piece for piece in shapely.get_parts(shape) if piece.area > PIECE_M2]
    return shapely.union_all(pieces) if pieces else shape


def _eroded(floor: BaseGeometry) -> BaseGeometry:
    # A rounded edge would turn every inward corner into a fan of them.
    standing = floor.buffer(-CLEARANCE_M, join_style="mitre")
    # A floor narrower than twice the clearance still has to be walked on.
    return floor if standing.is_empty else standing


def _reflex_corners(shape: BaseGeometry) -> Iterable[tuple[float, float]]:
    """Corners where the floor takes more than half a turn: the only bends a shortest way can have."""
    for piece in shapely.get_parts(shape):
        polygon = shapely.orient_polygons(piece)
        for ring in (polygon.exterior, *polygon.interiors):
            spots = np.asarray(ring.coords)[:-1]
            before, after = spots - np.roll(spots, 1, axis=0), np.roll(spots, -1, axis=0) - spots
            turn = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
            yield from map(tuple, spots[turn < -1e-9])
