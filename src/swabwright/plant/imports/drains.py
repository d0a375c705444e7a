"""Pipe runs of drains, each with the way its water runs when somebody has said so."""

from collections.abc import Sequence
from typing import Literal

from shapely.geometry import LineString
from shapely.ops import linemerge

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.drawing import Drawing, Shape
from swabwright.plant.imports.labels import name_beside
from swabwright.plant.imports.names import make_id, plain_name
from swabwright.plant.imports.outlines import spot
from swabwright.plant.model import Point
from swabwright.plant.rooms import Drain

LINE_POINTS = 2
"""A single line has as many points."""
NAME_REACH_M = 2.0
"""A text this near a drawn way may be its name."""


def make_drains(context: Context) -> tuple[Drain, ...]:
    """Every drawn pipe run; a closed shape on the layer is a gully and no run, and is put aside."""
    drawing = context.drawn("drains")
    drains: list[Drain] = []
    for path in ways_drawn(drawing, "pipe run", context):
        name = name_beside(LineString(path), drawing.labels, NAME_REACH_M) or f"Drain {len(drains) + 1}"
        identifier = make_id(name, [drain.id for drain in drains], "drain")
        drains.append(Drain(id=identifier, name=name, path=path, flow=_flow(identifier, name, context)))
    return tuple(drains)


def _flow(identifier: str, name: str, context: Context) -> Literal["along", "against", "unknown"]:
    for written, flow in context.mapping.drains.items():
        if plain_name(written) in (plain_name(name), plain_name(identifier)):
            return flow
    context.notes.assume(f"drains[{identifier}].flow", "nobody has said which way its water runs")
    return "unknown"


def ways_drawn(drawing: Drawing, what: str, context: Context) -> list[tuple[Point, ...]]:
    """The open ways of one kind; a closed shape among them is none and is put aside."""
    for shape in drawing.shapes:
        if shape.closed:
            where = f"{drawing.name}, layer {shape.layer}, at {spot(shape.points[0])}"
            context.notes.put_aside(where, "", f"closed, so no {what}")
    return joined_ways([shape for shape in drawing.shapes if not shape.closed])


def joined_ways(shapes: Sequence[Shape]) -> list[tuple[Point, ...]]:
    """The ways drawn, in drawing order: a polyline is one way, single lines are joined where exactly two meet."""
    ways = [(number, _tidy(shape.points)) for number, shape in enumerate(shapes) if len(shape.points) > LINE_POINTS]
    starts = {shape.points[0]: n for n, shape in reversed(list(enumerate(shapes))) if len(shape.points) == LINE_POINTS}
    for line in _merged([shape for shape in shapes if len(shape.points) == LINE_POINTS]):
        way = _forwards(_tidy(line), starts)
        ways.append((starts.get(way[0], len(shapes)), way))
    return [way for _, way in sorted(ways, key=lambda each: each[0])]


def _merged(lines: Sequence[Shape]) -> list[tuple[Point, ...]]:
    if len(lines) < LINE_POINTS:
        return [line.points for line in lines]
    # Only lines between exactly two others are joined, so a branch stays a run of its own.
    merged = linemerge([LineString(line.points) for line in lines], directed=False)
    parts = [merged] if isinstance(merged, LineString) else list(merged.geoms)
    return [tuple((float(x), float(y)) for x, y in part.coords) for part in parts]


def _forwards(way: tuple[Point, ...], starts: dict[Point, int]) -> tuple[Point, ...]:
    """The way turned so that it begins where a drawn piece begins."""
    return way if way[0] in starts or way[-1] not in starts else way[::-1]


def _tidy(points: Sequence[Point]) -> tuple[Point, ...]:
    rounded = [(round(x, 3), round(y, 3)) for x, y in points]
    return tuple(point for number, point in enumerate(rounded) if number == 0 or point != rounded[number - 1])
