"""Machines: closed outlines with the name written inside, each in the room it stands in most."""

from collections.abc import Sequence

from shapely.geometry import Polygon

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.drawing import Drawing
from swabwright.plant.imports.labels import name_inside
from swabwright.plant.imports.names import make_id
from swabwright.plant.imports.outlines import ring_of, spot, tidy_ring
from swabwright.plant.rooms import Equipment, Room


def make_equipment(context: Context, rooms: Sequence[Room]) -> tuple[Equipment, ...]:
    """Every closed outline on the layer of the machines; one inside another is a detail of it."""
    drawing = context.drawn("equipment")
    labels = (*drawing.labels, *context.drawn("room_names").labels)
    machines: list[Equipment] = []
    for outline in outermost(things_drawn(drawing, context)):
        where = spot(outline.representative_point().coords[0])
        room = room_of(outline, rooms)
        if room is None:
            context.notes.put_aside(f"{drawing.name}, equipment at {where}", "", "stands in no room")
            continue
        name = name_inside(outline, labels)
        taken = [machine.id for machine in machines]
        identifier = make_id(name or f"machine-{len(machines) + 1}", taken, "machine")
        if name is None:
            context.notes.assume(f"equipment[{identifier}].name", f"no text stands in the machine at {where}")
        machines.append(
            Equipment(id=identifier, name=name or f"Machine at {where}", room=room, outline=ring_of(outline))
        )
    return tuple(machines)


def things_drawn(drawing: Drawing, context: Context) -> list[Polygon]:
    """The closed outlines of one layer that enclose something; the others are counted and put aside."""
    outlines: list[Polygon] = []
    left_over = 0
    for shape in drawing.shapes:
        points = tidy_ring(shape.points, context.words.number("drawing.gap_m") / 10)
        polygon = Polygon(points) if shape.closed and len(points) > 2 else None
        if polygon is None or not polygon.is_valid or polygon.area == 0:
            left_over += 1
        else:
            outlines.append(polygon)
    if left_over:
        layers = ", ".join(drawing.layers())
        context.notes.put_aside(f"{drawing.name}, layer {layers}", f"{left_over} lines", "no closed outline")
    return outlines


def outermost(outlines: Sequence[Polygon]) -> list[Polygon]:
    """The outlines that lie in no larger one; of two that are the same, the first."""
    kept: list[Polygon] = []
    # Largest first, so that a detail always meets the machine it lies in.
    for outline in sorted(outlines, key=lambda each: -each.area):
        if not any(other.covers(outline) for other in kept):
            kept.append(outline)
    return [outline for outline in outlines if any(outline is each for each in kept)]


def room_of(outline: Polygon, rooms: Sequence[Room]) -> str | None:
    """The room that holds most of an outline, or None."""
    shares = [(Polygon(room.outline).intersection(outline).area, room.id) for room in rooms]
    area, room = max(shares, key=lambda pair: pair[0])
    return room if area > 0 else None
