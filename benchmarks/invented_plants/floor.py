"""The floor of an invented plant: rectangular rooms with walls between them, and doors that join them all."""

from dataclasses import dataclass

import numpy as np

from benchmarks.invented_plants.wording import ROOMS

WALL_M = 0.2
DOOR_FROM_CORNER_M = 0.5

Point = tuple[float, float]


@dataclass(frozen=True)
class Box:
    """A room or a machine as drawn: a name, what it is for, and its corners in metres."""

    name: str
    role: str
    left: float
    bottom: float
    right: float
    top: float

    @property
    def outline(self) -> list[Point]:
        """The four corners, anticlockwise."""
        return [(self.left, self.bottom), (self.right, self.bottom), (self.right, self.top), (self.left, self.top)]

    @property
    def middle(self) -> Point:
        """The middle of the box."""
        return ((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    def inside(self, rng: np.random.Generator, margin: float) -> Point:
        """A place inside, at least `margin` from the outline."""
        x = rng.uniform(self.left + margin, self.right - margin)
        y = rng.uniform(self.bottom + margin, self.top - margin)
        return (float(x), float(y))


@dataclass(frozen=True)
class Opening:
    """A door: the ends of its sill, and the numbers of the rooms it joins; -1 is outside."""

    start: Point
    end: Point
    joins: tuple[int, int]

    @property
    def middle(self) -> Point:
        """The middle of the sill."""
        return ((self.start[0] + self.end[0]) / 2, (self.start[1] + self.end[1]) / 2)


@dataclass(frozen=True)
class Floor:
    """Rooms and doors."""

    rooms: tuple[Box, ...]
    doors: tuple[Opening, ...]


def make_floor(rng: np.random.Generator) -> Floor:
    """4 to 12 rooms in rows and columns, every one reached through doors from the first."""
    columns, rows = int(rng.integers(2, 5)), int(rng.integers(2, 4))
    rooms = _rooms(rng, columns, rows)
    pairs = [(a, a + 1) for a in range(len(rooms)) if (a + 1) % columns] + [
        (a, a + columns) for a in range(len(rooms) - columns)
    ]
    joined, doors = {0}, []
    while len(joined) < len(rooms):
        edges = [pair for pair in pairs if (pair[0] in joined) != (pair[1] in joined)]
        pair = edges[int(rng.integers(len(edges)))]
        doors.append(_door(rng, rooms, pair))
        joined |= set(pair)
    taken = {door.joins for door in doors}
    doors += [_door(rng, rooms, pair) for pair in pairs if pair not in taken and rng.random() < 0.35]
    return Floor(rooms, (*doors, _way_out(rooms[0])))


def _rooms(rng: np.random.Generator, columns: int, rows: int) -> tuple[Box, ...]:
    across = np.cumsum([0.0, *rng.uniform(4.5, 11.0, columns).round(1)])
    up = np.cumsum([0.0, *rng.uniform(4.0, 8.5, rows).round(1)])
    rooms: list[Box] = []
    for number, (role, name) in enumerate(_names(rng, columns * rows)):
        row, column = divmod(number, columns)
        left, bottom = float(across[column]), float(up[row])
        right, top = float(across[column + 1]) - WALL_M, float(up[row + 1]) - WALL_M
        rooms.append(Box(name, role, left, bottom, right, top))
    return tuple(rooms)


def _names(rng: np.random.Generator, number: int) -> list[tuple[str, str]]:
    """(role, name) of each room, the base first; names that are used up are numbered."""
    roles = ["base", "raw", "cook", "chill", "ready", "way", "ready", "chill", "raw", "waste", "way", "ready"][:number]
    if "ready" not in roles:
        roles[-1] = "ready"
    names: list[tuple[str, str]] = []
    for role in roles:
        left = [name for name in ROOMS[role] if name not in [used for _, used in names]]
        name = str(rng.choice(left)) if left else f"{ROOMS[role][0]} {len(names)}"
        names.append((role, name))
    return names


def _door(rng: np.random.Generator, rooms: tuple[Box, ...], pair: tuple[int, int]) -> Opening:
    first, second = rooms[pair[0]], rooms[pair[1]]
    width = float(rng.uniform(0.9, 1.8))
    if second.left > first.right:
        low, high = max(first.bottom, second.bottom), min(first.top, second.top)
        start, x = _along(rng, (low, high), width), (first.right + second.left) / 2
        return Opening((x, start), (x, start + width), pair)
    low, high = max(first.left, second.left), min(first.right, second.right)
    start, y = _along(rng, (low, high), width), (first.top + second.bottom) / 2
    return Opening((start, y), (start + width, y), pair)


def _along(rng: np.random.Generator, span: tuple[float, float], width: float) -> float:
    low, high = span
    return float(rng.uniform(low + DOOR_FROM_CORNER_M, high - width - DOOR_FROM_CORNER_M))


def _way_out(room: Box) -> Opening:
    """The door of the first room to the outside, in its left wall."""
    x, y = room.left - WALL_M / 2, room.bottom + DOOR_FROM_CORNER_M
    return Opening((x, y), (x, y + 1.0), (0, -1))
