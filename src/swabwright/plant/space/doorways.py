"""A door as an opening in the wall between two floors, crossed on one of a few parallel lanes."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import ceil

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry

from swabwright.errors import SwabwrightError
from swabwright.plant.model import Point
from swabwright.plant.rooms import OUTSIDE, Door
from swabwright.plant.space.shapes import CLEARANCE_M, RoomShape

JAMB_M = 0.2
LANE_EVERY_M = 1.0
LANES_EACH_SIDE = 2
DOOR_OFF_WALL_M = 1.5
"""A door drawn farther than this from a room it joins does not join it."""

FloatArray = npt.NDArray[np.float64]
Lane = tuple[Point, Point]


@dataclass(frozen=True)
class Doorway:
    """A door between two rooms: its opening on the drawing and the lanes across it, first room first."""

    door: Door
    opening: BaseGeometry
    lanes: tuple[Lane, ...]
    through: BaseGeometry
    """Both floors and the opening, as one piece of floor to look across."""


def doorways(doors: tuple[Door, ...], shapes: Mapping[str, RoomShape]) -> Iterator[Doorway]:
    """The doors that join two drawn rooms; a door to `outside` leads off the drawing and is left out."""
    for door in doors:
        if OUTSIDE not in door.joins:
            yield _doorway(door, shapes[door.joins[0]], shapes[door.joins[1]])


def _doorway(door: Door, first: RoomShape, second: RoomShape) -> Doorway:
    at = ShapelyPoint(door.at)
    for shape in (first, second):
        _refuse_if_far(door, shape, float(shape.floor.distance(at)))
    reach = max(first.standing.distance(at), second.standing.distance(at)) + CLEARANCE_M
    along = _wall_direction(first, second, at)
    # The opening runs along the wall, whichever way the wall runs on the drawing.
    half = along * door.width_m / 2
    sill = LineString([np.asarray(door.at) - half, np.asarray(door.at) + half])
    middle = (first.stand(door.at), second.stand(door.at))
    # A door at the very end of a wall has no opening straight before one of its rooms: the middle lane makes one.
    opening = sill.buffer(reach, cap_style="flat").union(LineString(middle).buffer(CLEARANCE_M))
    through = shapely.union_all([first.floor, second.floor, opening])
    shapely.prepare(through)
    side_lanes = _side_lanes(door, along, (first, second))
    lanes = (middle, *(lane for lane in side_lanes if through.covers(LineString(lane))))
    return Doorway(door, opening, lanes, through)


def _refuse_if_far(door: Door, shape: RoomShape, metres: float) -> None:
    if metres > DOOR_OFF_WALL_M:
        raise SwabwrightError(
            f"door '{door.id}' lies {metres:.1f} m away from room '{shape.id}' that it should join; "
            "move the door onto the wall between its two rooms"
        )


def _wall_direction(first: RoomShape, second: RoomShape, at: ShapelyPoint) -> FloatArray:
    """The run of the wall at the door, as a unit vector, taken from the nearer of the two outlines."""
    # The nearer outline is the wall that the door was drawn on.
    shape = min(first, second, key=lambda one: float(one.floor.boundary.distance(at)))
    best, way = np.inf, np.array([1.0, 0.0])
    for ring in _rings(shape.floor):
        spots = np.asarray(ring.coords)
        walls = shapely.linestrings(np.stack([spots[:-1], spots[1:]], axis=1))
        lengths = np.asarray(shapely.length(walls), dtype=float)
        # A wall of a few millimetres is drawing noise and has no direction worth taking.
        distances = np.where(lengths > CLEARANCE_M, shapely.distance(walls, at), np.inf)
        nearest = int(np.argmin(distances))
        if distances[nearest] < best:
            best, way = float(distances[nearest]), (spots[nearest + 1] - spots[nearest]) / lengths[nearest]
    return way


def _rings(shape: BaseGeometry) -> Iterator[BaseGeometry]:
    for piece in shapely.get_parts(shape):
        assert isinstance(piece, Polygon)  # noqa: S101  (for the type checker: parts of a floor are polygons)
        yield piece.exterior
        yield from piece.interiors


def _side_lanes(door: Door, along: FloatArray, sides: tuple[RoomShape, RoomShape]) -> Iterator[Lane]:
    """Ways across a wide door to the left and right of its middle, clear of the jambs."""
    usable = max(door.width_m / 2 - JAMB_M, 0.0)
    count = min(ceil(usable / LANE_EVERY_M), LANES_EACH_SIDE)
    for step in range(1, count + 1):
        for offset in (usable * step / count, -usable * step / count):
            spot = np.asarray(door.at) + offset * along
            yield sides[0].stand((spot[0], spot[1])), sides[1].stand((spot[0], spot[1]))
