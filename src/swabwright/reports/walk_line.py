"""The walk as one thin line: rounded at corners, arrowheads on it, thick where it crosses a barrier."""

from collections.abc import Mapping, Sequence

from shapely import LineString

from swabwright.case.plan import Leg
from swabwright.reports.frame import Dot, Frame, d
from swabwright.reports.shell import Opening
from swabwright.reports.strokes import along, arrowhead, rounded
from swabwright.reports.tokens import ARROW_EVERY_MM, CORNER_MM, WALK_ACROSS_BARRIER_MM, WALK_MM


def walk_path(legs: Sequence[Leg], frame: Frame, shown_at: Mapping[int, Dot]) -> list[Dot]:
    """The whole walk in millimetres; its stops are where their marks are shown, by order of work."""
    path: list[Dot] = []
    for leg in legs:
        points = frame.points(leg.path)
        # the line meets the mark where it is shown, also when it had to make room
        points[0] = shown_at.get(leg.from_order, points[0])
        points[-1] = shown_at.get(leg.to_order, points[-1])
        path += points[1:] if path and path[-1] == points[0] else points
    return path


def walk_svg(path: Sequence[Dot], openings: Sequence[Opening]) -> str:
    """The walk's line and arrowheads, and a thick bar in every doorway with a barrier that it passes."""
    if len(path) < 2:
        return ""
    line = LineString(path)
    heads = "".join(arrowhead(at, angle, 0.7, 2.0) for at, angle in along(path, ARROW_EVERY_MM, ARROW_EVERY_MM / 2))
    bars = "".join(_bar(o) for o in openings if o.door.barrier != "none" and line.distance(_doorway(o)) == 0)
    return (
        f'<g id="walk" fill="none" stroke="#000"><path d="{rounded(path, CORNER_MM)}" stroke-width="{WALK_MM}"/>'
        f"{heads}{bars}</g>"
    )


def _doorway(opening: Opening) -> LineString:
    half = opening.width_mm / 2
    return LineString([opening.place(-half, 0.0), opening.place(half, 0.0)])


def _bar(opening: Opening) -> str:
    return f'<path d="{d([(x, y) for x, y in _doorway(opening).coords])}" stroke-width="{WALK_ACROSS_BARRIER_MM}"/>'
