"""A place for every site: as listed or drawn, else laid out in its machine or room and marked unconfirmed."""

from collections import defaultdict
from collections.abc import Sequence
from typing import Protocol

from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon
from shapely.ops import nearest_points

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.outlines import spot
from swabwright.plant.imports.places import spread_inside
from swabwright.plant.imports.surroundings import Surroundings
from swabwright.plant.model import Point
from swabwright.tables.table import Row


class Unplaced(Protocol):
    """What is known of a site when its place is looked for."""

    @property
    def row(self) -> Row: ...
    @property
    def code(self) -> str: ...
    @property
    def room(self) -> str: ...
    @property
    def equipment(self) -> str | None: ...
    @property
    def position(self) -> Point | None: ...


def place_all(context: Context, around: Surroundings, drafts: Sequence[Unplaced]) -> dict[str, Point]:
    """The place of every site by code."""
    places = {each.code: _checked(each, each.position, context, around) for each in drafts if each.position}
    waiting: dict[tuple[str, str | None], list[Unplaced]] = defaultdict(list)
    for draft in drafts:
        if draft.position is None:
            waiting[(draft.room, draft.equipment)].append(draft)
    for (room, machine), group in waiting.items():
        places |= _laid_out(group, _area(room, machine, around), context)
    return places


def _checked(draft: Unplaced, position: Point, context: Context, around: Surroundings) -> Point:
    """A drawn place inside its room, or on its wall, where it is moved onto the floor's edge."""
    floor = around.floors[draft.room]
    here = ShapelyPoint(position)
    off = floor.distance(here)
    if off > context.words.number("site.wall_m"):
        other = around.room_at(position)
        stands = f"in '{other}'" if other else "in no room"
        context.notes.fault(
            draft.row.where,
            f"site {draft.code}: the list says room '{draft.room}', the drawing shows it {stands} at {spot(position)}",
        )
    # Sites on walls are drawn on the wall line, a hand outside the inner outline.
    if off > 0:
        edge, _ = nearest_points(floor, here)
        return (round(edge.x, 3), round(edge.y, 3))
    return (round(position[0], 3), round(position[1], 3))


def _area(room: str, machine: str | None, around: Surroundings) -> Polygon:
    """The outline to lay sites out in: of their machine where it stands in the room, else of the room."""
    floor = around.floors[room]
    for each in around.equipment:
        if each.id == machine and each.room == room:
            return Polygon(each.outline)
    return floor


def _laid_out(group: Sequence[Unplaced], area: Polygon, context: Context) -> dict[str, Point]:
    ordered = sorted(group, key=lambda each: each.code)
    places = spread_inside(area, len(ordered), context.words.number("site.spacing_m"))
    where = "machine" if ordered[0].equipment else "room"
    for each in ordered:
        context.notes.assume(
            f"sites[{each.code}].position", f"not drawn; laid out in its {where}, the true place is not known"
        )
    return {each.code: place for each, place in zip(ordered, places, strict=True)}
