"""Arrowheads, points along a path, and corners made round."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, cos, degrees, hypot, sin

from swabwright.reports.frame import Dot
from swabwright.reports.tokens import HAIR_MM


def along(path: Sequence[Dot], every: float, first: float) -> Iterator[tuple[Dot, float]]:
    """Points `every` millimetres along a path from `first` on, with the path's direction in radians."""
    wanted, done = first, 0.0
    for start, end in pairwise(path):
        length = hypot(end[0] - start[0], end[1] - start[1])
        while length and wanted <= done + length:
            yield between(start, end, (wanted - done) / length), atan2(end[1] - start[1], end[0] - start[0])
            wanted += every
        done += length


def between(start: Dot, end: Dot, share: float) -> Dot:
    """The point a share of the way from start to end."""
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def behind(at: Dot, angle: float, length: float) -> Dot:
    """The point `length` behind `at` when one looks along `angle`."""
    return at[0] - length * cos(angle), at[1] - length * sin(angle)


def arrowhead(at: Dot, angle: float, half_mm: float, length_mm: float) -> str:
    """A solid arrowhead with its tip at `at`."""
    shape = f"M{-length_mm:.2f} {-half_mm:.2f}L0 0L{-length_mm:.2f} {half_mm:.2f}Z"
    return f'<path d="{shape}" transform="{_turn(at, angle)}" fill="#000" stroke="none"/>'


def chevron(at: Dot, angle: float, half_mm: float, length_mm: float, weight_mm: float = HAIR_MM) -> str:
    """An open arrowhead with its tip at `at`."""
    shape = f"M{-length_mm:.2f} {-half_mm:.2f}L0 0L{-length_mm:.2f} {half_mm:.2f}"
    return f'<path d="{shape}" transform="{_turn(at, angle)}" fill="none" stroke-width="{weight_mm}"/>'


def _turn(at: Dot, angle: float) -> str:
    return f"translate({at[0]:.2f} {at[1]:.2f}) rotate({degrees(angle):.1f})"


def rounded(path: Sequence[Dot], radius_mm: float) -> str:
    """The `d` attribute of a path whose corners are rounded by a radius, less where a side is short."""
    points = [*(point for point, following in pairwise(path) if point != following), *path[-1:]]
    if len(points) < 2:
        return ""
    parts = [f"M{points[0][0]:.2f} {points[0][1]:.2f}"]
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        enter, leave = _cut(corner, before, radius_mm), _cut(corner, after, radius_mm)
        parts.append(f"L{enter[0]:.2f} {enter[1]:.2f}Q{corner[0]:.2f} {corner[1]:.2f} {leave[0]:.2f} {leave[1]:.2f}")
    parts.append(f"L{points[-1][0]:.2f} {points[-1][1]:.2f}")
    return "".join(parts)


def _cut(corner: Dot, towards: Dot, radius_mm: float) -> Dot:
    length = hypot(towards[0] - corner[0], towards[1] - corner[1])
    # half a side at most, so that two corners of a short side never cross
    return between(corner, towards, min(radius_mm / length, 0.5) if length else 0.0)
