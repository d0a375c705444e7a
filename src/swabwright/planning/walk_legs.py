"""The minutes from site to site: floor, doors with their changes, and no short cut through a cleaner room."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot

import numpy as np
import numpy.typing as npt

from swabwright.errors import SwabwrightError
from swabwright.plant.figures import Figures
from swabwright.plant.model import Point
from swabwright.plant.rooms import OUTSIDE, Door
from swabwright.plant.space import FloorSpace, Ways

FloatArray = npt.NDArray[np.float64]
Spot = tuple[Point, str]

AT_BASE = 0
"""Class from which the first leg starts: in clean clothes, so no room on the way is cleaner."""


@dataclass(frozen=True)
class Way:
    """The way of one leg: its bends, metres and the doors on it."""

    path: tuple[Point, ...]
    metres: float
    doors: tuple[Door, ...]


class Legs:
    """Minutes and ways between spots, by the hygiene class from which one comes."""

    def __init__(self, space: FloorSpace, figures: Figures) -> None:
        self._space = space
        self._rule = {name: figures.number(f"rule.{name}") for name in _RULES}
        self._classes = {room.id: room.hygiene_class for room in space.plant.rooms}
        self._ways: dict[int, Ways] = {}
        self._found: dict[tuple[Spot, Spot, int], Way] = {}
        self._costs: dict[int, FloatArray] = {}
        # Priced once for all sites: the choice tries many sets of them.
        self._places = [self.base, *{(site.position, site.room): None for site in space.plant.sites}]
        self._number = {spot: number for number, spot in enumerate(self._places)}

    @property
    def base(self) -> Spot:
        """The clean base; one that lies in no room is refused."""
        self._space.reachable_rooms()
        return (self._space.plant.base, self._space.room_at(self._space.plant.base) or OUTSIDE)

    def minutes(self, spots: Sequence[Spot], came_from: Sequence[int]) -> FloatArray:
        """Minutes from each spot to each other, changes at doors included, shape (n, n).

        Spots are the base and sites of the plant. `came_from` is the hygiene class in which one stands at each spot:
        doors of cleaner rooms cost from there.
        """
        minutes = np.empty((len(spots), len(spots)))
        numbers, classes = [self._number[spot] for spot in spots], np.asarray(came_from)
        for hygiene_class in sorted(set(came_from)):
            rows = np.flatnonzero(classes == hygiene_class)
            costs = self._costs_from(hygiene_class)[np.ix_([numbers[row] for row in rows], numbers)]
            minutes[rows] = costs / self._rule["walking_speed_m_per_min"]
        if np.isinf(minutes).any():
            self._space.require_reachable([room for _, room in spots])
            raise SwabwrightError("two sites of the walk are not joined by any way; check the outlines of their rooms")
        return minutes

    def way(self, start: Spot, end: Spot, came_from: int) -> Way:
        """The cheapest way from start to end for somebody who comes from a room of class `came_from`."""
        asked = (start, end, came_from)
        if asked not in self._found:
            self._found[asked] = self._find(start, end, came_from)
        return self._found[asked]

    def _find(self, start: Spot, end: Spot, came_from: int) -> Way:
        path = self._ways_from(came_from).path(start, end)
        metres = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(path))
        return Way(path, metres, self._space.doors_on(path))

    def barrier_minutes(self, door: Door) -> float:
        """Minutes for the change that a door itself asks for."""
        changes = {"none": 0.0, "boots": self._rule["minutes_boots_change"]}
        return changes.get(door.barrier, self._rule["minutes_full_change"])

    def enters_cleaner(self, door: Door, came_from: int) -> bool:
        """Whether a door belongs to a room cleaner than the class one comes from."""
        return any(self._classes.get(room, came_from) < came_from for room in door.joins)

    def _costs_from(self, hygiene_class: int) -> FloatArray:
        """Costs in metres between the base and all sites of the plant, worked out once per class."""
        if hygiene_class not in self._costs:
            self._costs[hygiene_class] = self._ways_from(hygiene_class).costs(self._places)
        return self._costs[hygiene_class]

    def _ways_from(self, hygiene_class: int) -> Ways:
        if hygiene_class not in self._ways:
            speed = self._rule["walking_speed_m_per_min"]
            doors = self._space.plant.doors
            self._ways[hygiene_class] = self._space.ways(
                {door.id: speed * self._door_minutes(door, hygiene_class) for door in doors}
            )
        return self._ways[hygiene_class]

    def _door_minutes(self, door: Door, came_from: int) -> float:
        minutes = self._rule["minutes_door"] + self.barrier_minutes(door)
        # Into a cleaner room and out again takes one full change, so each of its two doors takes half.
        return minutes + self._rule["minutes_full_change"] / 2 * self.enters_cleaner(door, came_from)


_RULES = ("walking_speed_m_per_min", "minutes_door", "minutes_boots_change", "minutes_full_change")
