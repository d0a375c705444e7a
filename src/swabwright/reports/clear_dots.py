"""Dots moved clear of marks, numbers and names; moved, never hidden."""

from collections.abc import Sequence

import shapely
from shapely import STRtree
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from swabwright.reports.frame import Dot
from swabwright.reports.scatter import Sheet, settle


def clear_dots(
    dots: Sequence[Dot], covered: Sequence[BaseGeometry], rooms: Sequence[BaseGeometry], spacing: float
) -> list[Dot]:
    """All the dots, in millimetres: those under something covered stand at the nearest free spot of their room."""
    taken = unary_union(list(covered)).buffer(spacing / 2)
    shapely.prepare(taken)
    hidden = [bool(shapely.contains_xy(taken, x, y)) for x, y in dots]
    sheet = Sheet(spacing)
    # dots in the open are set first: they stay, and those that must move give way to them
    for dot, is_hidden in zip(dots, hidden, strict=True):
        if not is_hidden:
            sheet.add(dot)
    free = [room.difference(taken) for room in rooms]
    index = STRtree(list(rooms))
    moved = list(dots)
    for i, dot in enumerate(dots):
        if hidden[i]:
            moved[i] = _moved(dot, sheet, free, index)
            sheet.add(moved[i])
    return moved


def _moved(dot: Dot, sheet: Sheet, free: Sequence[BaseGeometry], index: STRtree) -> Dot:
    # a dot stays in its room: the other side of a wall would say something else
    home = [free[i] for i in index.query(shapely.Point(dot), "intersects") if not free[i].is_empty]
    return settle(dot, sheet, tuple(home or [area for area in free if not area.is_empty]), stays=False)
