"""The floor of an invented plant: rooms in two rows around a high-care hall, with their doors."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from swabwright.plant.rooms import Door, Room

WALL_M = 0.3
HALL = "hall"


@dataclass(frozen=True)
class Kind:
    """What a room is for, and what follows from it."""

    name: str
    hygiene_class: int
    exposed_product: bool
    temperature_c: float
    barrier: str
    """What is changed at its door to the hall."""


UPPER = (
    Kind("raw", 5, exposed_product=True, temperature_c=10, barrier="full_change"),
    Kind("preparation", 4, exposed_product=True, temperature_c=10, barrier="full_change"),
    Kind("cooking", 3, exposed_product=True, temperature_c=18, barrier="boots"),
    Kind("chill", 2, exposed_product=True, temperature_c=2, barrier="boots"),
)
LOWER = (
    Kind("boots", 3, exposed_product=False, temperature_c=14, barrier="full_change"),
    Kind("wash", 3, exposed_product=False, temperature_c=16, barrier="boots"),
    Kind("store", 2, exposed_product=False, temperature_c=2, barrier="boots"),
    Kind("waste", 6, exposed_product=False, temperature_c=12, barrier="full_change"),
)


@dataclass(frozen=True)
class Box:
    """A rectangle on the floor, in metres."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def outline(self) -> tuple[tuple[float, float], ...]:
        """Its four corners."""
        return ((self.left, self.bottom), (self.right, self.bottom), (self.right, self.top), (self.left, self.top))

    def spot(self, random: np.random.Generator, margin_m: float = 0.4) -> tuple[float, float]:
        """A random point at least so far from its walls."""
        x = random.uniform(self.left + margin_m, self.right - margin_m)
        y = random.uniform(self.bottom + margin_m, self.top - margin_m)
        return (round(float(x), 3), round(float(y), 3))


@dataclass(frozen=True)
class Floor:
    """Rooms with their boxes, and the doors between them."""

    boxes: dict[str, Box]
    rooms: tuple[Room, ...]
    doors: tuple[Door, ...]


def make_floor(random: np.random.Generator) -> Floor:
    """A floor of nine rooms whose sizes differ from draw to draw."""
    width, hall_depth = random.uniform(34, 48), random.uniform(14, 20)
    boxes = {HALL: Box(0, 0, round(width, 2), round(hall_depth, 2))}
    hall = boxes[HALL]
    for kinds, above in ((UPPER, True), (LOWER, False)):
        depth = random.uniform(7, 11)
        bottom = hall.top + WALL_M if above else -WALL_M - depth
        boxes.update(_row(kinds, width, bottom, bottom + depth, random))
    kinds = {kind.name: kind for kind in (*UPPER, *LOWER)}
    rooms = (_room(HALL, hall, 1, exposed=True, temperature_c=7.0),) + tuple(
        _room(name, boxes[name], kind.hygiene_class, exposed=kind.exposed_product, temperature_c=kind.temperature_c)
        for name, kind in kinds.items()
    )
    doors = [_door_to_hall(kind, boxes[kind.name], hall, above=kind in UPPER) for kind in kinds.values()]
    doors += _side_doors(UPPER, boxes) + _side_doors(LOWER, boxes)
    return Floor(boxes, rooms, tuple(doors))


def _row(
    kinds: tuple[Kind, ...], width: float, bottom: float, top: float, random: np.random.Generator
) -> dict[str, Box]:
    shares = random.dirichlet(np.full(len(kinds), 12.0))
    edges = np.concatenate([[0.0], np.cumsum(shares) * width])
    return {
        kind.name: Box(
            round(edges[place] + (WALL_M if place else 0.0), 2),
            round(bottom, 2),
            round(edges[place + 1], 2),
            round(top, 2),
        )
        for place, kind in enumerate(kinds)
    }


def _room(name: str, box: Box, hygiene_class: int, *, exposed: bool, temperature_c: float) -> Room:
    return Room(
        id=name,
        name=name.capitalize(),
        outline=box.outline,
        hygiene_class=hygiene_class,
        exposed_product=exposed,
        wetness="damp" if name in ("store", "chill") else "wet",
        temperature_c=temperature_c,
    )


def _door_to_hall(kind: Kind, box: Box, hall: Box, *, above: bool) -> Door:
    y = hall.top + WALL_M / 2 if above else -WALL_M / 2
    middle = (round((box.left + box.right) / 2, 2), round(y, 2))
    return Door.model_validate(
        {"id": f"door-{kind.name}", "joins": (kind.name, HALL), "at": middle, "width_m": 1.6, "barrier": kind.barrier}
    )


def _side_doors(kinds: tuple[Kind, ...], boxes: dict[str, Box]) -> list[Door]:
    doors = []
    for left, right in pairwise(kinds):
        box = boxes[left.name]
        at = (round(box.right + WALL_M / 2, 2), round((box.bottom + box.top) / 2, 2))
        doors.append(
            Door(id=f"door-{left.name}-{right.name}", joins=(left.name, right.name), at=at, width_m=1.4, barrier="none")
        )
    return doors
