"""The plant's floor: which room a point lies in, how far it is on foot, what sees what."""

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from math import inf

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry import Point as ShapelyPoint

from swabwright.errors import SwabwrightError
from swabwright.plant.document import Plant
from swabwright.plant.model import Point
from swabwright.plant.rooms import Door
from swabwright.plant.space.doorways import doorways
from swabwright.plant.space.gaps import joined_rooms, missing_door_sentence
from swabwright.plant.space.shapes import room_shapes
from swabwright.plant.space.ways import FloatArray, Spot, Ways

WALL_M = 0.6
"""Rooms are drawn by their inner outline: a wall is at most this thick, and a point in it belongs to a room."""

OVERLAP_M2 = 0.25
"""Two rooms drawn over each other by less than this are a slip of the pen."""


class FloorSpace:
    """The floor of a plant, ready to be walked on; built once, read by spread, walk and papers."""

    def __init__(self, plant: Plant) -> None:
        self.plant = plant
        self._rooms = {room.id: room for room in plant.rooms}
        self._shapes = room_shapes(plant.rooms)
        self._doorways = tuple(doorways(plant.doors, self._shapes))
        self._ways = Ways(self._shapes, self._doorways)

    def room_at(self, point: Point) -> str | None:
        """The id of the room a point lies in (the smallest one; within a wall the nearest), else None."""
        spot = ShapelyPoint(point)
        inside = [shape for shape in self._shapes.values() if shape.floor.covers(spot)]
        if inside:
            return min(inside, key=lambda shape: float(shape.floor.area)).id
        # A site on a wall is often drawn in the wall.
        near = min(self._shapes.values(), key=lambda shape: float(shape.floor.distance(spot)))
        return near.id if near.floor.distance(spot) <= WALL_M else None

    def distance_m(self, a: Point, b: Point) -> float:
        """Metres on foot from a to b through doors; inf where there is no way."""
        spots = self._spots((a, b))
        return float(self._ways.costs(spots)[0, 1]) if spots else inf

    def distance_matrix(self, points: Sequence[Point], rooms: Sequence[str] | None = None) -> FloatArray:
        """Metres on foot between all pairs of points, shape (n, n); inf where there is no way.

        `rooms` names the room each point is reached from; without it each point's own room is looked up.
        """
        if rooms is not None:
            return self._ways.costs(list(zip(points, rooms, strict=True)))
        found = [self.room_at(point) for point in points]
        known = [n for n, room in enumerate(found) if room is not None]
        matrix = np.full((len(points), len(points)), inf)
        spots = [(points[n], room) for n, room in enumerate(found) if room is not None]
        matrix[np.ix_(known, known)] = self._ways.costs(spots) if spots else 0.0
        return matrix

    def path(self, a: Point, b: Point) -> tuple[Point, ...]:
        """The bends of the shortest way from a to b, both ends included; empty where there is no way."""
        spots = self._spots((a, b))
        return self._ways.path(*spots) if spots else ()

    def ways(self, door_metres: Mapping[str, float]) -> Ways:
        """Ways on which each door costs as much as so many metres of floor (a change of clothes, a lock)."""
        return Ways(self._shapes, self._doorways, door_metres)

    def sees(self, a: Point, b: Point) -> bool:
        """Whether nothing but floor or a doorway without barrier lies on the straight line from a to b."""
        first, second = self.room_at(a), self.room_at(b)
        if first is None or second is None:
            return False
        if first == second:
            shape = self._shapes[first]
            return bool(shape.open_between([shape.stand(a)], [shape.stand(b)])[0])
        line = LineString([self._shapes[first].stand(a), self._shapes[second].stand(b)])
        # Only a door between these two rooms can open the wall between them.
        joining = [way for way in self._doorways if set(way.door.joins) == {first, second}]
        return any(way.door.barrier == "none" and way.through.covers(line) for way in joining)

    def doors_on(self, path: Sequence[Point]) -> tuple[Door, ...]:
        """The doors a way goes through, in order."""
        # A way crosses a wall on a lane only, with both of its ends as bends.
        lanes = {lane: way.door for way in self._doorways for lane in way.lanes}
        steps = pairwise(path)
        found = (lanes.get((a, b)) or lanes.get((b, a)) for a, b in steps)
        return tuple(door for door in found if door is not None)

    def barriers_on(self, path: Sequence[Point]) -> tuple[Door, ...]:
        """The doors with a hygiene barrier that a way goes through, in order."""
        return tuple(door for door in self.doors_on(path) if door.barrier != "none")

    def stays_on_floor(self, path: Sequence[Point]) -> bool:
        """Whether every step of a way lies in one room or in the doorway between two; never through a wall."""
        floors = [shape.floor for shape in self._shapes.values()] + [way.through for way in self._doorways]
        steps = [LineString(step) for step in pairwise(path)]
        return all(any(floor.covers(step) for floor in floors) for step in steps)

    def reachable_rooms(self) -> frozenset[str]:
        """The rooms that can be walked to from the clean base."""
        base = self.room_at(self.plant.base)
        if base is None:
            x, y = self.plant.base
            raise SwabwrightError(
                f"the clean base at ({x:g}, {y:g}) lies in no room; move it into the room where kit is laid out"
            )
        return joined_rooms(base, self.plant.doors)

    def missing_door(self, room: str) -> str | None:
        """The sentence that says which door is missing for anybody to reach `room`; None when none is."""
        reachable = self.reachable_rooms()
        if room in reachable:
            return None
        cut_off = joined_rooms(room, self.plant.doors)
        return missing_door_sentence(self._rooms[room], cut_off, reachable, self._shapes)

    def require_reachable(self, rooms: Iterable[str]) -> None:
        """Refuse, with the door that is missing, a room that nobody can walk to."""
        for room in rooms:
            sentence = self.missing_door(room)
            if sentence is not None:
                raise SwabwrightError(sentence)

    def neighbours(self, room: str) -> tuple[str, ...]:
        """The rooms that share a wall with `room` or overlap it on the drawing, whether or not a door joins them."""
        own = self._shapes[room].floor
        others = (shape for name, shape in self._shapes.items() if name != room)
        return tuple(shape.id for shape in others if own.distance(shape.floor) <= WALL_M)

    def overlaps(self) -> tuple[tuple[str, str], ...]:
        """Pairs of rooms drawn over each other by more than a sliver (a room inside another is no overlap)."""
        shapes = list(self._shapes.values())
        pairs = ((a, b) for n, a in enumerate(shapes) for b in shapes[n + 1 :])
        return tuple((a.id, b.id) for a, b in pairs if shapely.area(a.standing.intersection(b.standing)) > OVERLAP_M2)

    def _spots(self, points: Sequence[Point]) -> list[Spot]:
        """The points with their rooms; none at all when one of them lies off the drawing."""
        rooms = [self.room_at(point) for point in points]
        return [(p, r) for p, r in zip(points, rooms, strict=True) if r is not None] if None not in rooms else []
