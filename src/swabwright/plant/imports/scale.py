"""Drawing units to metres: from what the drawing says, else from the size of its rooms, shown as a guess."""

from dataclasses import replace
from math import dist, log, sqrt
from statistics import median

import shapely
from shapely.geometry import LineString, Polygon
from shapely.ops import polygonize, unary_union

from swabwright.errors import SwabwrightError
from swabwright.plant.imports.drawing import Block, Drawing, Label, Shape
from swabwright.plant.imports.mapping import Unit
from swabwright.plant.imports.notes import Notes
from swabwright.plant.imports.vocabulary import Vocabulary
from swabwright.plant.model import Point

METRES: dict[Unit, float] = {"mm": 0.001, "cm": 0.01, "m": 1.0, "inch": 0.0254, "feet": 0.3048}
CODES: dict[int, Unit] = {1: "inch", 2: "feet", 4: "mm", 5: "cm", 6: "m"}
"""The header variable $INSUNITS (DXF reference, Autodesk)."""
IMPERIAL: tuple[Unit, ...] = ("inch", "feet")
CORNERS = 3
"""Fewest points of an outline."""
GAP_SHARE = 0.01
"""Ends this near, beside the length of the line, are drawn as one point."""
FAR_M = 5_000.0
"""A drawing further than this from its origin is moved to it."""


def find_unit(drawing: Drawing, said: tuple[Unit | None, int, int | None], words: Vocabulary, notes: Notes) -> Unit:
    """The drawing's unit. `said`: by the mapping, and the header's $INSUNITS and $MEASUREMENT."""
    by_mapping, code, measurement = said
    if by_mapping:
        return by_mapping
    side = _middle_side(drawing)
    if code in CODES:
        unit = CODES[code]
        _check_size(drawing.name, unit, side, words)
        notes.guess(f"{drawing.name}: drawn in {unit}, as the drawing says")
        return unit
    usual = words.number("drawing.usual_room_m")
    # Feet and metres differ by less than rooms do, so metric wins unless the drawing calls itself imperial.
    doubt = 0.0 if measurement == 0 else log(2)
    unit = min(METRES, key=lambda each: abs(log(side * METRES[each] / usual)) + doubt * (each in IMPERIAL))
    size = f"the middle room is then {side * METRES[unit]:.1f} m across"
    notes.assume("rooms", f"{drawing.name} names no unit; read as {unit}: {size}")
    notes.guess(f"{drawing.name}: names no unit; read as {unit}, since {size}")
    return unit


def _check_size(name: str, unit: Unit, side: float, words: Vocabulary) -> None:
    figure = words.figures["import.drawing.usual_room_m"]
    metres = side * METRES[unit]
    if not (figure.low or 0) / 2 <= metres <= (figure.high or metres) * 2:
        raise SwabwrightError(
            f"{name}: says it is drawn in {unit}, by which its middle room is {metres:.3g} m across; "
            "say the unit in the mapping file, [drawing] unit"
        )


def _middle_side(drawing: Drawing) -> float:
    """Side of a square as large as the middle one of the closed shapes given (the rooms), in drawing units."""
    outlines = [shape.points for shape in drawing.shapes if len(shape.points) >= CORNERS and _nearly_closed(shape)]
    loose = [LineString(shape.points) for shape in drawing.shapes if shape.points not in outlines]
    areas = [Polygon(points).convex_hull.area for points in outlines]
    areas += [room.area for room in _rooms_of(loose)]
    areas = [area for area in areas if area > 0]
    if not areas:
        raise SwabwrightError(
            f"{drawing.name}: no closed shape on the layer of the rooms; draw each room as a closed polyline"
        )
    return sqrt(median(areas))


def _nearly_closed(shape: Shape) -> bool:
    """Closed, or with ends that lie near each other beside the length of the whole."""
    return shape.closed or dist(shape.points[0], shape.points[-1]) < GAP_SHARE * LineString(shape.points).length


def _rooms_of(loose: list[LineString]) -> list[Polygon]:
    """What loose lines enclose, ends that nearly meet taken as one."""
    if not loose:
        return []
    together = unary_union(loose)
    left, bottom, right, top = together.bounds
    grid = max(right - left, top - bottom) * GAP_SHARE / 10
    return list(polygonize(shapely.set_precision(together, grid)))


def in_metres(drawing: Drawing, unit: Unit, notes: Notes) -> Drawing:
    """The same drawing in metres; one that lies far from its origin is moved near it, which is noted."""
    factor = METRES[unit]
    points = [point for shape in drawing.shapes for point in shape.points]
    left, bottom = (min(point[axis] for point in points) * factor for axis in (0, 1))
    # Survey coordinates run to millions of metres, where a millimetre is lost to rounding.
    far = max(abs(left), abs(bottom)) > FAR_M
    origin = (left // 1, bottom // 1) if far else (0.0, 0.0)
    if far:
        notes.guess(f"{drawing.name}: lies far from its origin; moved by {-origin[0]:.0f} m and {-origin[1]:.0f} m")

    def place(point: Point) -> Point:
        return (round(point[0] * factor - origin[0], 4), round(point[1] * factor - origin[1], 4))

    def shape(each: Shape) -> Shape:
        centre = place(each.centre) if each.centre else None
        return replace(each, points=tuple(place(point) for point in each.points), centre=centre)

    def label(each: Label) -> Label:
        return replace(each, at=place(each.at), height=each.height * factor)

    def block(each: Block) -> Block:
        return replace(each, at=place(each.at), width=each.width * factor)

    return replace(
        drawing,
        shapes=tuple(map(shape, drawing.shapes)),
        labels=tuple(map(label, drawing.labels)),
        blocks=tuple(map(block, drawing.blocks)),
    )
