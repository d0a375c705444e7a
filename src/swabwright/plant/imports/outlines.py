"""Closed outlines from what is drawn: closed polylines as they are, loose pieces joined where their ends meet."""

from collections.abc import Sequence
from math import dist

import shapely
from shapely.geometry import LineString, Polygon
from shapely.ops import polygonize_full, unary_union
from shapely.validation import explain_validity

from swabwright.plant.imports.drawing import Drawing, Shape
from swabwright.plant.imports.notes import Notes
from swabwright.plant.model import Point


def closed_outlines(drawing: Drawing, gap_m: float, what: str, notes: Notes) -> list[Polygon]:
    """Every outline that closes, in drawing order; one that does not, or that crosses itself, is a fault.

    Ends nearer than `gap_m` count as one point. `what` names the thing drawn in the fault: `room`.
    """
    outlines: list[Polygon] = []
    pieces: list[Shape] = []
    for shape in drawing.shapes:
        if len(shape.points) > 2 and (shape.closed or dist(shape.points[0], shape.points[-1]) <= gap_m):
            outlines += _valid(shape, gap_m, (drawing.name, what), notes)
        else:
            pieces.append(shape)
    return outlines + _joined(pieces, gap_m, (drawing.name, what), notes)


def _valid(shape: Shape, gap_m: float, named: tuple[str, str], notes: Notes) -> list[Polygon]:
    drawing, what = named
    points = tidy_ring(shape.points, gap_m / 10)
    where = f"{drawing}, layer {shape.layer}, at {spot(shape.points[0])}"
    if len(points) < 3 or Polygon(points).convex_hull.area <= gap_m * gap_m:
        notes.put_aside(where, "", f"a {what} outline without any area")
        return []
    polygon = Polygon(points)
    if not polygon.is_valid:
        crossing = explain_validity(polygon).partition("[")[2].rstrip("]").split()
        near = spot((float(crossing[0]), float(crossing[1]))) if len(crossing) == 2 else where
        notes.fault(where, f"the {what} outline crosses itself near {near}; draw it as one simple closed polyline")
        return []
    return [polygon]


def _joined(pieces: Sequence[Shape], gap_m: float, named: tuple[str, str], notes: Notes) -> list[Polygon]:
    """Outlines put together from loose lines and arcs; pieces that close nothing are faults."""
    drawing, what = named
    if not pieces:
        return []
    ends: list[Point] = []
    lines = [
        LineString(
            [_snapped(piece.points[0], ends, gap_m), *piece.points[1:-1], _snapped(piece.points[-1], ends, gap_m)]
        )
        for piece in pieces
        if _long(piece, gap_m)
    ]
    # Rooms that share a drawn wall part its line between them: every face of the net is a room.
    polygons, cuts, dangles, _ = polygonize_full(unary_union(lines))
    for loose in (*dangles.geoms, *cuts.geoms):
        start, end = loose.coords[0], loose.coords[-1]
        notes.fault(
            f"{drawing}, layer {pieces[0].layer}",
            f"the {what} outline from {spot(start)} to {spot(end)} is not closed "
            f"(its ends are {dist(start, end):.2f} m apart); close it, or take it off the layer",
        )
    return [Polygon(tidy_ring([(x, y) for x, y in polygon.exterior.coords], gap_m / 10)) for polygon in polygons.geoms]


def _long(piece: Shape, gap_m: float) -> bool:
    return LineString(piece.points).length > gap_m


def _snapped(point: Point, ends: list[Point], gap_m: float) -> Point:
    """The first end met near this point, so that ends that nearly meet are one."""
    for end in ends:
        if dist(end, point) <= gap_m:
            return end
    ends.append(point)
    return point


def tidy_ring(points: Sequence[Point], apart_m: float) -> list[Point]:
    """A ring without its repeated end and without points on top of one another, to the millimetre."""
    ring: list[Point] = []
    for point in points:
        rounded = (round(point[0], 3), round(point[1], 3))
        if not ring or dist(ring[-1], rounded) > apart_m:
            ring.append(rounded)
    while len(ring) > 1 and dist(ring[0], ring[-1]) <= apart_m:
        ring.pop()
    return ring


def ring_of(polygon: Polygon) -> tuple[Point, ...]:
    """The outline of a polygon as a document holds it: to the millimetre, first point not repeated."""
    return tuple((round(x, 3), round(y, 3)) for x, y in list(polygon.exterior.coords)[:-1])


def middle_line(points: Sequence[Point]) -> tuple[Point, Point]:
    """The middle line of a shape along the longer side of the smallest box round it, to the millimetre."""
    corners = shapely.get_coordinates(shapely.minimum_rotated_rectangle(LineString(points)))
    box = [(float(x), float(y)) for x, y in corners]
    if dist(box[0], box[1]) < dist(box[1], box[2]):
        box = [*box[1:], box[1]]
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = box[:4]
    return (
        (round((ax + dx) / 2, 3), round((ay + dy) / 2, 3)),
        (round((bx + cx) / 2, 3), round((by + cy) / 2, 3)),
    )


def spot(point: Sequence[float]) -> str:
    """A place on the drawing as a person finds it: `(3.2, 14.0) m`."""
    return f"({point[0]:.1f}, {point[1]:.1f}) m"
