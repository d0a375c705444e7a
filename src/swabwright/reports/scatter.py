"""Dots scattered over an area, evenly and always the same way."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import islice
from math import cos, floor, hypot, pi, sin

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.spatial import cKDTree
from shapely.geometry.base import BaseGeometry

Dot = tuple[float, float]
CANDIDATES = 10
"""Each dot is the best of so many random candidates."""
TRIES = 400
"""Random points looked at before an area counts as full."""
GOLDEN_ANGLE = pi * (3 - 5**0.5)
AT_ONCE = 128
DECIMALS = 4
"""Positions are kept to a tenth of a millimetre on the floor."""


@dataclass
class Sheet:
    """The dots placed so far, in cells as wide as the smallest spacing, in metres."""

    spacing: float
    _cells: dict[tuple[int, int], list[Dot]] = field(default_factory=dict)

    def _cell(self, dot: Dot) -> tuple[int, int]:
        return floor(dot[0] / self.spacing), floor(dot[1] / self.spacing)

    def is_free(self, dot: Dot) -> bool:
        """Whether no dot placed so far lies nearer than the spacing."""
        column, row = self._cell(dot)
        # a cell is as wide as the spacing, so a dot too near can only lie in this cell or the eight around it
        around = ((column + i, row + j) for i in (-1, 0, 1) for j in (-1, 0, 1))
        return all(
            hypot(other[0] - dot[0], other[1] - dot[1]) >= self.spacing
            for cell in around
            for other in self._cells.get(cell, ())
        )

    def add(self, dot: Dot) -> None:
        """Places a dot."""
        self._cells.setdefault(self._cell(dot), []).append(dot)


def own_dots(area: BaseGeometry, within: BaseGeometry, count: int, spacing: float, key: bytes) -> list[Dot]:
    """The first `count` dots of a place, at least `spacing` apart; a longer list starts with the shorter one.

    Each is the best of ten random candidates (the farthest from the place's other dots). A full area grows
    evenly, inside `within` while there is room.
    """
    # one stream a place, never shared: a place's dots do not change because another place got more
    rng = np.random.default_rng(np.frombuffer(key, dtype=np.uint32))
    dots: NDArray[np.float64] = np.empty((0, 2))
    while len(dots) < count:
        best = _best_candidate(area, dots, spacing, rng)
        if best is None:
            area = _grown(area, within, spacing)
        else:
            dots = np.vstack([dots, best])
    return [(round(float(x), DECIMALS), round(float(y), DECIMALS)) for x, y in dots]


def _grown(area: BaseGeometry, within: BaseGeometry, by: float) -> BaseGeometry:
    wider = area.buffer(by)
    # a full machine spreads into its own room first; only a full room spreads beyond its walls
    inside = wider.intersection(within)
    return inside if inside.area > area.area * 1.001 else wider


def _best_candidate(
    area: BaseGeometry, dots: NDArray[np.float64], spacing: float, rng: np.random.Generator
) -> NDArray[np.float64] | None:
    """The best of the first ten free candidates; None where hundreds of tries find no free one."""
    points = _inside(area, rng)
    if not len(dots):
        return np.asarray(points[0]) if len(points) else np.array(area.representative_point().coords[0])
    gaps = np.asarray(cKDTree(dots).query(points)[0])
    free = np.flatnonzero(gaps >= spacing)[:CANDIDATES]
    return np.asarray(points[free[np.argmax(gaps[free])]]) if len(free) else None


def _inside(area: BaseGeometry, rng: np.random.Generator) -> NDArray[np.float64]:
    left, low, right, high = area.bounds
    points = rng.random((TRIES, 2)) * (right - left, high - low) + (left, low)
    return np.asarray(points[shapely.contains_xy(area, points[:, 0], points[:, 1])])


def settle(dot: Dot, sheet: Sheet, areas: tuple[BaseGeometry, ...], *, stays: bool = True) -> Dot:
    """The free position nearest to `dot`: its own if it `stays`, in the first of `areas` with one, else anywhere."""
    if stays and sheet.is_free(dot):
        return dot
    for area in areas:
        reach = 2 * hypot(area.bounds[2] - area.bounds[0], area.bounds[3] - area.bounds[1])
        for other in _within(area, _spiral(dot, sheet.spacing, reach)):
            if sheet.is_free(other):
                return other
    return next(other for other in _spiral(dot, sheet.spacing, float("inf")) if sheet.is_free(other))


def _within(area: BaseGeometry, positions: Iterator[Dot]) -> Iterator[Dot]:
    """The positions inside the area, asked for many at once: one by one would be slow."""
    while some := list(islice(positions, AT_ONCE)):
        inside = shapely.contains_xy(area, np.array(some))
        yield from (position for position, is_inside in zip(some, inside, strict=True) if is_inside)


def _spiral(centre: Dot, spacing: float, reach: float) -> Iterator[Dot]:
    """Positions ever farther from the centre, on a sunflower spiral fine enough to meet every gap."""
    # a third of the spacing between neighbours: no free gap is stepped over
    step, turn = 0, 0.35 * spacing
    while (radius := turn * step**0.5) <= reach:
        angle = step * GOLDEN_ANGLE
        yield round(centre[0] + radius * cos(angle), DECIMALS), round(centre[1] + radius * sin(angle), DECIMALS)
        step += 1
