"""One planted fault each: what is done to an invented plant, and the words its refusal must hold."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from benchmarks.invented_plants.contents import Contents
from benchmarks.invented_plants.drawing import Pen
from benchmarks.invented_plants.floor import Floor

Plant = tuple[Floor, Contents]


def _same(plant: Plant) -> Plant:
    return plant


def _untouched(pen: Pen, plant: Plant) -> None:
    """The drawing stays as it is."""


@dataclass(frozen=True)
class PlantedFault:
    """A fault: how the lists and the drawing are spoilt, and what must be said about it."""

    name: str
    says: tuple[str, ...]
    spoil: Callable[[Plant], Plant] = _same
    spoil_drawing: Callable[[Pen, Plant], None] = _untouched


def _twice(plant: Plant) -> Plant:
    floor, contents = plant
    sites = list(contents.sites)
    sites[20] = replace(sites[20], code=sites[3].code)
    return floor, replace(contents, sites=tuple(sites))


def _unknown_room(plant: Plant) -> Plant:
    floor, contents = plant
    sites = list(contents.sites)
    sites[10] = replace(sites[10], room="Confectionery")
    return floor, replace(contents, sites=tuple(sites))


def _no_door(plant: Plant) -> Plant:
    """The room of the last site loses all its doors."""
    floor, contents = plant
    room = next(number for number, box in enumerate(floor.rooms) if box.name == contents.sites[-1].room)
    room = room or len(floor.rooms) - 1
    return replace(floor, doors=tuple(door for door in floor.doors if room not in door.joins)), contents


def _open_outline(pen: Pen, plant: Plant) -> None:
    left = max(box.right for box in plant[0].rooms) + 3.0
    pen.polyline("rooms", [(left, 0.0), (left + 6.0, 0.0), (left + 6.0, 5.0), (left, 5.0), (left, 1.5)], close=False)


def _faces_only(pen: Pen, plant: Plant) -> None:
    pen.space.delete_all_entities()
    for room in plant[0].rooms:
        pen.space.add_3dface([pen.at(point) for point in room.outline], dxfattribs={"layer": "ROOMS"})


def _crossing(pen: Pen, plant: Plant) -> None:
    left = max(box.right for box in plant[0].rooms) + 3.0
    pen.polyline("rooms", [(left, 0.0), (left + 6.0, 5.0), (left + 6.0, 0.0), (left, 5.0)])


FAULTS = (
    PlantedFault("site code twice", ("code 'S004' stands in row", "too"), spoil=_twice),
    PlantedFault("room not closed", ("room outline", "is not closed"), spoil_drawing=_open_outline),
    PlantedFault("unknown room", ("S011", "no room 'Confectionery'"), spoil=_unknown_room),
    PlantedFault("missing door", ("no door leads from",), spoil=_no_door),
    PlantedFault("3D faces only", ("3D faces", "closed polyline"), spoil_drawing=_faces_only),
    PlantedFault("room crosses itself", ("room outline crosses itself",), spoil_drawing=_crossing),
)
