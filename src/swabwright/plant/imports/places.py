"""Places for sites that nobody has drawn: a grid inside their room or machine, the same every time."""

from collections.abc import Iterator
from math import ceil

from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from swabwright.plant.model import Point

FROM_WALL_M = 0.3
"""Distance of laid-out sites from the outline, where there is room for it."""
HALVINGS = 12


def spread_inside(outline: Polygon, number: int, spacing_m: float) -> list[Point]:
    """`number` places inside an outline, row by row, as far apart as `spacing_m` where there is room."""
    if number == 0:
        return []
    inner = outline.buffer(-FROM_WALL_M)
    area = inner if not inner.is_empty else outline
    step = spacing_m
    for _ in range(HALVINGS):
        places = list(_grid(area, step))
        if len(places) >= number:
            return _evenly(places, number)
        # Halving the area per place each time finds room for all without crowding more than needed.
        step /= 2**0.5
    middle = outline.representative_point()
    return [_rounded(middle.x, middle.y)] * number


def _grid(area: BaseGeometry, step: float) -> Iterator[Point]:
    left, bottom, right, top = area.bounds
    for row in range(ceil((top - bottom) / step) + 1):
        for column in range(ceil((right - left) / step) + 1):
            x, y = left + (column + 0.5) * step, bottom + (row + 0.5) * step
            if area.covers(ShapelyPoint(x, y)):
                yield _rounded(x, y)


def _evenly(places: list[Point], number: int) -> list[Point]:
    return [places[index * len(places) // number] for index in range(number)]


def _rounded(x: float, y: float) -> Point:
    return (round(x, 3), round(y, 3))
