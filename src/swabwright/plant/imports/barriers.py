"""What must be changed at each door: as a person says, else from the names of the rooms it joins."""

from collections.abc import Mapping, Sequence
from math import dist

from swabwright.errors import did_you_mean
from swabwright.plant.imports.context import Context
from swabwright.plant.imports.mapping import Barrier
from swabwright.plant.imports.names import plain_name
from swabwright.plant.rooms import OUTSIDE, Door, Room
from swabwright.tables.fields import words_of

NUMBER_REACH_M = 1.5
"""A text among the doors this near one is its number."""


def with_barriers(context: Context, doors: Sequence[Door], rooms: Sequence[Room]) -> tuple[Door, ...]:
    """The doors with what must be changed at each; what no mapping says is taken from the rooms, unconfirmed."""
    by_id = {room.id: room for room in rooms}
    numbers = _numbers(context, doors)
    said = {plain_name(name): barrier for name, barrier in context.mapping.doors.items()}
    _check_known(context, doors, numbers)
    placed = []
    for door in doors:
        names = (plain_name(door.id), plain_name(numbers.get(door.id, "")))
        barrier = next((said[name] for name in names if name in said), None)
        placed.append(door.model_copy(update={"barrier": barrier or _usual_barrier(context, door, by_id)}))
    return tuple(placed)


def _numbers(context: Context, doors: Sequence[Door]) -> dict[str, str]:
    """The text nearest to each door, by door id; texts by no door are put aside."""
    drawing = context.drawn("doors")
    numbers: dict[str, str] = {}
    for label in drawing.labels:
        metres, door = min(((dist(door.at, label.at), door.id) for door in doors), default=(NUMBER_REACH_M, ""))
        if metres >= NUMBER_REACH_M or door in numbers:
            where = f"{drawing.name}, layer {label.layer}"
            context.notes.put_aside(where, label.text, "a text among the doors that is no door's number")
        else:
            numbers[door] = label.text
    return numbers


def _check_known(context: Context, doors: Sequence[Door], numbers: Mapping[str, str]) -> None:
    known = [*numbers.values(), *(door.id for door in doors)]
    for name in context.mapping.doors:
        if plain_name(name) not in map(plain_name, known):
            context.notes.fault(f"mapping, doors.'{name}'", f"no door is called so{did_you_mean(name, known)}")


def _usual_barrier(context: Context, door: Door, rooms: Mapping[str, Room]) -> Barrier:
    """From the name of the dirtier room; nothing where both are of one class or the door leads outside."""
    joined = [rooms[room] for room in door.joins if room != OUTSIDE]
    if len(joined) == 1:
        return "none"
    cleaner, other = sorted(joined, key=lambda room: room.hygiene_class)
    # Between rooms of one class nothing is changed, and nobody needs to be asked.
    if cleaner.hygiene_class == other.hygiene_class:
        return "none"
    path, words, table = f"doors[{door.id}].barrier", set(words_of(other.name)), context.words.data["barriers"]
    if words & set(table["full_change"]):
        context.notes.assume(path, f"'{other.name}' leads into '{cleaner.name}'; a full change is taken")
        return "full_change"
    if words & set(table["boots"]):
        context.notes.assume(path, f"'{other.name}' leads into '{cleaner.name}'; a change of boots is taken")
        return "boots"
    context.notes.assume(path, f"nobody has said what is changed between '{other.name}' and '{cleaner.name}'")
    return "none"
