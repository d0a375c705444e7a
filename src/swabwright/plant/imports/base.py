"""The clean base, the doors' barriers, and the rooms nobody can walk to."""

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
    for word in context.words.data["base"]["words"]:
        for room in rooms:
            if word in words_of(room.name):
                return room
    return max(rooms, key=lambda room: (not room.exposed_product, room.hygiene_class))


def with_barriers(context: Context, doors: Sequence[Door], rooms: Sequence[Room]) -> tuple[Door, ...]:
    """The doors with what must be changed at each, from the names of the rooms they join; every one unconfirmed."""
    by_id = {room.id: room for room in rooms}
    return tuple(_with_barrier(context, door, by_id) for door in doors)


def _with_barrier(context: Context, door: Door, rooms: dict[str, Room]) -> Door:
    joined = [rooms[room] for room in door.joins if room != OUTSIDE]
    if len(joined) == 1:
        return door
    cleaner, other = sorted(joined, key=lambda room: room.hygiene_class)
    words = set(words_of(other.name)) if cleaner.hygiene_class < other.hygiene_class else set()
    table = context.words.data["barriers"]
    path = f"doors[{door.id}].barrier"
    if words & set(table["full_change"]):
        context.notes.assume(path, f"'{other.name}' leads into '{cleaner.name}'; a full change is taken")
        return door.model_copy(update={"barrier": "full_change"})
    if words & set(table["boots"]):
        context.notes.assume(path, f"'{other.name}' leads into '{cleaner.name}'; a change of boots is taken")
        return door.model_copy(update={"barrier": "boots"})
    if cleaner.hygiene_class != other.hygiene_class:
        context.notes.assume(path, f"nobody has said what is changed between '{other.name}' and '{cleaner.name}'")
    return door


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
