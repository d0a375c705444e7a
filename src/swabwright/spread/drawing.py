"""What the builders of the contact network look things up in: places by room, lines, walls, figures."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Protocol

import numpy as np
import numpy.typing as npt

from swabwright.plant.document import Plant
from swabwright.plant.figures import Figures
from swabwright.plant.model import Point
from swabwright.plant.rooms import Room
from swabwright.spread.mechanisms import Mechanism, mechanisms_of
from swabwright.spread.places import Place

FloatArray = npt.NDArray[np.float64]


class Space(Protocol):
    """What the contact network asks of the floor: rooms, and whether one place sees another."""

    def room_at(self, point: Point) -> str | None:
        """The id of the room a point lies in."""

    def sees(self, a: Point, b: Point) -> bool:
        """Whether no wall lies between two points."""

    def neighbours(self, room: str) -> tuple[str, ...]:
        """The rooms that share a wall with a room."""


@dataclass(frozen=True)
class Drawing:
    """A plant with its rows, and everything that follows from the drawing alone."""

    plant: Plant
    places: tuple[Place, ...]
    space: Space
    figures: Figures

    @cached_property
    def mechanisms(self) -> dict[str, Mechanism]:
        """Mechanisms by name."""
        return {mechanism.name: mechanism for mechanism in mechanisms_of(self.figures)}

    @cached_property
    def rooms(self) -> dict[str, Room]:
        """Rooms by id."""
        return {room.id: room for room in self.plant.rooms}

    @cached_property
    def rest_row(self) -> dict[str, int]:
        """The row of the rest of each room."""
        return {place.room: row for row, place in enumerate(self.places) if place.is_rest}

    @cached_property
    def row_of_code(self) -> dict[str, int]:
        """The row of each site by its code."""
        return {place.site.code: row for row, place in enumerate(self.places) if place.site is not None}

    @cached_property
    def positions(self) -> FloatArray:
        """Position of every row in metres, shape (rows, 2)."""
        return np.array([place.position for place in self.places], dtype=np.float64)

    @cached_property
    def incoming(self) -> dict[str, int]:
        """The source of incoming material of each line; they come after the rows."""
        lines = sorted(line.id for line in self.plant.lines)
        return {line: len(self.places) + number for number, line in enumerate(lines)}

    def sites(self) -> Iterator[tuple[int, Place]]:
        """Rows that are sites, with their place."""
        return ((row, place) for row, place in enumerate(self.places) if not place.is_rest)

    def number(self, name: str) -> float:
        """A figure by its dotted name."""
        return self.figures.number(name)

    @cached_property
    def walls(self) -> FloatArray:
        """All walls as straight pieces, shape (pieces, 2, 2)."""
        pieces = [
            piece
            for room in self.plant.rooms
            for piece in zip(room.outline, room.outline[1:] + room.outline[:1], strict=True)
        ]
        return np.array(pieces, dtype=np.float64)
