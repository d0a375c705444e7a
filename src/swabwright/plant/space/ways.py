"""Shortest ways over the floor: a graph of doorway lanes and corners, searched once for all points."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import inf

import numpy as np
import numpy.typing as npt
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra

from swabwright.plant.model import Point
from swabwright.plant.space.doorways import Doorway
from swabwright.plant.space.legs import cheapest_pairs
from swabwright.plant.space.shapes import RoomShape

FloatArray = npt.NDArray[np.float64]
Spot = tuple[Point, str]
"""A point and the room it is reached from."""


@dataclass(frozen=True)
class _Graph:
    spots: FloatArray
    rooms: tuple[str, ...]
    costs: FloatArray
    """Cheapest cost between any two graph spots, shape (n, n); inf where there is no way."""
    before: npt.NDArray[np.int32]


class Ways:
    """Cheapest ways between spots, in metres, each door adding the metres that `door_metres` gives it."""

    def __init__(
        self,
        shapes: Mapping[str, RoomShape],
        doorways: Sequence[Doorway],
        door_metres: Mapping[str, float] | None = None,
    ) -> None:
        self._shapes = shapes
        self._graph = _graph_of(shapes, doorways, door_metres or {})
        self._in_room = {
            name: np.array([n for n, room in enumerate(self._graph.rooms) if room == name], dtype=np.int64)
            for name in shapes
        }

    def costs(self, spots: Sequence[Spot]) -> FloatArray:
        """Cheapest cost in metres between all pairs of spots, shape (n, n); inf where there is no way."""
        standing = self._standing(spots)
        entries = self._entries(standing)
        costs = cheapest_pairs(*entries, self._graph.costs)
        self._straight_lines(standing, costs)
        np.fill_diagonal(costs, 0.0)
        return costs

    def path(self, start: Spot, end: Spot) -> tuple[Point, ...]:
        """The bends of the cheapest way, both ends included; empty where there is no way."""
        first, last = self._standing((start, end))
        shape = self._shapes[first[1]]
        if first[1] == last[1] and shape.open_between([first[0]], [last[0]])[0]:
            return _without_repeats((first[0], last[0]))
        nodes = self._best_nodes(first, last)
        bends = tuple((float(x), float(y)) for x, y in self._graph.spots[nodes])
        return _without_repeats((first[0], *bends, last[0])) if nodes else ()

    def _best_nodes(self, first: Spot, last: Spot) -> list[int]:
        leaving, reaching = self._entry(first), self._entry(last)
        if not len(leaving[0]) or not len(reaching[0]):
            return []
        # All ways out of the one room to all ways into the other, at once.
        total = leaving[1][:, None] + self._graph.costs[np.ix_(leaving[0], reaching[0])] + reaching[1][None, :]
        row, column = np.unravel_index(int(np.argmin(total)), total.shape)
        if not np.isfinite(total[row, column]):
            return []
        # The search remembers the spot before each one: the way is read backwards.
        nodes = [int(reaching[0][column])]
        while nodes[-1] != leaving[0][row]:
            nodes.append(int(self._graph.before[leaving[0][row], nodes[-1]]))
        return nodes[::-1]

    def _standing(self, spots: Sequence[Spot]) -> list[Spot]:
        return [(self._shapes[room].stand(point), room) for point, room in spots]

    def _entry(self, spot: Spot) -> tuple[npt.NDArray[np.int64], FloatArray]:
        """The graph spots seen from `spot`, and the metres to each."""
        nodes = self._in_room[spot[1]]
        if not len(nodes):
            return nodes, np.zeros(0)
        goals = self._graph.spots[nodes]
        seen = self._shapes[spot[1]].open_between(np.broadcast_to(spot[0], goals.shape), goals)
        return nodes[seen], np.hypot(*(goals[seen] - np.asarray(spot[0])).T)

    def _entries(self, spots: Sequence[Spot]) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.int64], FloatArray]:
        found = [self._entry(spot) for spot in spots]
        starts = np.concatenate([[0], np.cumsum([len(nodes) for nodes, _ in found])]).astype(np.int64)
        nodes = np.concatenate([nodes for nodes, _ in found]).astype(np.int64)
        return starts, nodes, np.concatenate([metres for _, metres in found]).astype(float)

    def _straight_lines(self, spots: Sequence[Spot], costs: FloatArray) -> None:
        """Lower `costs` to the straight line wherever two spots of one room see each other."""
        points = np.array([point for point, _ in spots], dtype=float)
        for name in {room for _, room in spots}:
            here = np.array([n for n, (_, room) in enumerate(spots) if room == name])
            # Each pair is looked at once: the way back is as long.
            rows, columns = np.triu_indices(len(here), k=1)
            rows, columns = here[rows], here[columns]
            if len(rows):
                seen = self._shapes[name].open_between(points[rows], points[columns])
                straight = np.where(seen, np.hypot(*(points[rows] - points[columns]).T), inf)
                costs[rows, columns] = costs[columns, rows] = np.minimum(costs[rows, columns], straight)


def _graph_of(shapes: Mapping[str, RoomShape], doorways: Sequence[Doorway], door_metres: Mapping[str, float]) -> _Graph:
    spots: list[Point] = []
    rooms: list[str] = []
    edges: list[tuple[int, int, float]] = []
    for shape in shapes.values():
        spots.extend((float(x), float(y)) for x, y in shape.corners)
        rooms.extend([shape.id] * len(shape.corners))
    for doorway in doorways:
        extra = door_metres.get(doorway.door.id, 0.0)
        for lane in doorway.lanes:
            edges.append((len(spots), len(spots) + 1, float(np.hypot(*np.subtract(*lane))) + extra))
            spots.extend(lane)
            rooms.extend(doorway.door.joins)
    array = np.array(spots, dtype=float).reshape(-1, 2)
    # Lanes and corners of one room see each other or they do not; a way bends nowhere else.
    for shape in shapes.values():
        edges.extend(_edges_inside(shape, [n for n, room in enumerate(rooms) if room == shape.id], array))
    return _searched(array, tuple(rooms), edges)


def _edges_inside(shape: RoomShape, nodes: list[int], spots: FloatArray) -> list[tuple[int, int, float]]:
    rows, columns = np.triu_indices(len(nodes), k=1)
    if not len(rows):
        return []
    starts, ends = np.array(nodes)[rows], np.array(nodes)[columns]
    seen = shape.open_between(spots[starts], spots[ends])
    metres = np.hypot(*(spots[starts] - spots[ends]).T)
    return [(int(a), int(b), float(m)) for a, b, m in zip(starts[seen], ends[seen], metres[seen], strict=True)]


def _searched(spots: FloatArray, rooms: tuple[str, ...], edges: list[tuple[int, int, float]]) -> _Graph:
    size = len(spots)
    if not size:
        return _Graph(spots, rooms, np.zeros((0, 0)), np.zeros((0, 0), dtype=np.int32))
    # The sparse search reads a stored zero as no edge, so two spots on one point keep a hair of distance.
    table = np.array([(a, b, max(m, 1e-12)) for a, b, m in edges], dtype=float).reshape(-1, 3)
    shape = (size, size)
    links = csr_array((table[:, 2], (table[:, 0].astype(np.int32), table[:, 1].astype(np.int32))), shape=shape)
    costs, before = dijkstra(links, directed=False, return_predecessors=True)
    return _Graph(spots, rooms, costs, before)


def _without_repeats(points: tuple[Point, ...]) -> tuple[Point, ...]:
    kept = [points[0]]
    kept.extend(point for previous, point in pairwise(points) if point != previous)
    return tuple(kept)
