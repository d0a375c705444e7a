"""The clean base, and the rooms nobody can walk to from it."""

from collections.abc import Sequence

from shapely.geometry import Polygon

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.surroundings import Surroundings
from swabwright.plant.model import Point
from swabwright.plant.rooms import OUTSIDE, Door, Room
from swabwright.plant.sites import Site
from swabwright.tables.fields import words_of


def find_base(context: Context, around: Surroundings) -> Point:
    """Where kit is laid out: as the mapping or the drawing says, else in a room named for it, unconfirmed."""
    if context.mapping.plant.base is not None:
        return context.mapping.plant.base
    drawn = context.drawn("base")
    marks = [block.at for block in drawn.blocks] + [label.at for label in drawn.labels]
    inside = [mark for mark in marks if around.room_at(mark)]
    if inside:
        return (round(inside[0][0], 3), round(inside[0][1], 3))
    room = _likely_room(context, around.rooms)
    middle = Polygon(room.outline).representative_point()
    context.notes.assume("base", f"nobody has said where kit is laid out; taken in '{room.name}'")
    return (round(middle.x, 3), round(middle.y, 3))


def _likely_room(context: Context, rooms: Sequence[Room]) -> Room:
    """The room whose name holds the first of the usual words, else the last of the rooms without open food."""
    # The words are in order of preference, so the word and not the room is tried first.
    for word in context.words.data["base"]["words"]:
        for room in rooms:
            if word in words_of(room.name):
                return room
    return max(rooms, key=lambda room: (not room.exposed_product, room.hygiene_class))


def check_ways(context: Context, doors: Sequence[Door], sites: Sequence[Site], start: str) -> None:
    """A fault for every room with sites that no door leads to from the room where the walk begins."""
    reached, waiting = {start}, [start]
    while waiting:
        room = waiting.pop()
        beyond = {other for door in doors if room in door.joins for other in door.joins if other != OUTSIDE} - reached
        reached |= beyond
        waiting += sorted(beyond)
    cut_off = sorted({site.room for site in sites} - reached)
    for room in cut_off:
        number = sum(site.room == room for site in sites)
        context.notes.fault(
            context.drawing.name,
            f"no door leads from '{start}', where the walk begins, to room '{room}' with {number} sites; "
            "draw the missing door on the layer of the doors",
        )
