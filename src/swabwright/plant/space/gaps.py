"""Which rooms hang together, and which door is missing to one that does not."""

from collections.abc import Collection, Iterable, Mapping

from swabwright.plant.rooms import OUTSIDE, Door, Room
from swabwright.plant.space.shapes import RoomShape


def joined_rooms(start: str, doors: Iterable[Door]) -> frozenset[str]:
    """All rooms that can be walked to from room `start` without leaving the building, itself included."""
    found, open_ends = {start}, [start]
    # The yard is not drawn, so nobody is sent through it.
    pairs = [door.joins for door in doors if OUTSIDE not in door.joins]
    while open_ends:
        here = open_ends.pop()
        beyond = {b if a == here else a for a, b in pairs if here in (a, b)} - found
        found |= beyond
        open_ends.extend(beyond)
    return frozenset(found)


def missing_door_sentence(
    room: Room, cut_off: Collection[str], reachable: Collection[str], shapes: Mapping[str, RoomShape]
) -> str:
    """Which door would make `room` reachable: between its cut-off rooms and the nearest reachable one."""
    # A room behind another cut-off one is reached through that one: the gap may lie elsewhere.
    pairs = [(shapes[a], shapes[b]) for a in sorted(cut_off) for b in sorted(reachable)]
    here, there = min(pairs, key=lambda pair: float(pair[0].floor.distance(pair[1].floor)))
    return (
        f"nobody can walk to room '{room.id}' ({room.name}): a door is missing between "
        f"'{here.id}' ({here.room.name}) and '{there.id}' ({there.room.name}), "
        "the nearest room that can be reached from the clean base; draw that door"
    )
