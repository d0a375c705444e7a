"""Pipe runs of drains, each with the way its water runs when somebody has said so."""

from collections.abc import Sequence
from typing import Literal

from shapely.geometry import LineString
from shapely.ops import linemerge

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.drawing import Shape
from swabwright.plant.imports.labels import name_beside
from swabwright.plant.imports.names import make_id, plain_name
from swabwright.plant.imports.outlines import spot
from swabwright.plant.model import Point
from swabwright.plant.rooms import Drain

NAME_REACH_M = 2.0
"""A text this near a drawn way may be its name."""


def make_drains(context: Context) -> tuple[Drain, ...]:
    """Every drawn pipe run; a closed shape on the layer is a gully and no run, and is put aside."""
    drawing = context.drawn("drains")
    for shape in drawing.shapes:
        if shape.closed:
            context.notes.put_aside(f"{drawing.name}, drains at {spot(shape.points[0])}", "", "closed, so no pipe run")
    drains: list[Drain] = []
    for path in joined_ways([shape for shape in drawing.shapes if not shape.closed]):
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


def joined_ways(shapes: Sequence[Shape]) -> list[tuple[Point, ...]]:
    """Open pieces joined end to end where exactly two meet, in the direction of the first one drawn."""
    if not shapes:
        return []
    if len(shapes) == 1:
        return [_tidy(shapes[0].points)]
    merged = linemerge([LineString(shape.points) for shape in shapes], directed=False)
    lines = [merged] if isinstance(merged, LineString) else list(merged.geoms)
    starts = {shape.points[0]: number for number, shape in reversed(list(enumerate(shapes)))}
    ways = [_tidy(tuple((float(x), float(y)) for x, y in line.coords)) for line in lines]
    return sorted((_forwards(way, starts) for way in ways), key=lambda way: starts.get(way[0], len(shapes)))


def _forwards(way: tuple[Point, ...], starts: dict[Point, int]) -> tuple[Point, ...]:
    """The way turned so that it begins where a drawn piece begins."""
    return way if way[0] in starts or way[-1] not in starts else way[::-1]


def _tidy(points: Sequence[Point]) -> tuple[Point, ...]:
    rounded = [(round(x, 3), round(y, 3)) for x, y in points]
    return tuple(point for number, point in enumerate(rounded) if number == 0 or point != rounded[number - 1])
