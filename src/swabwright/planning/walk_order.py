"""The shortest allowed order of work: class, pass, room visit and rank, solved level by level."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np
import numpy.typing as npt

from swabwright.planning.walk_blocks import block_costs
from swabwright.planning.walk_rooms import best_room_order
from swabwright.planning.walk_visits import PriceBlock, RoomVisit, room_visit

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]


@dataclass(frozen=True, order=True)
class OrderKey:
    """What fixes the order of work: the hygiene class never falls, then the pass, then the rank within a room.

    pass_number: 0 rooms with exposed product, 1 other rooms, 2 drains. Rooms of one pass may come in any order.
    """

    hygiene_class: int
    pass_number: int
    room: str
    rank: int

    @property
    def group(self) -> tuple[int, int]:
        """Class and pass: what is done together before anything of the next group."""
        return (self.hygiene_class, self.pass_number)


@dataclass(frozen=True)
class _Group:
    """The rooms of one class and pass, and the ways found through them."""

    visits: tuple[RoomVisit, ...]
    exits: IntArray
    """Stops at which a visit can end, all rooms after each other."""
    room: IntArray
    """Number of the visit of each exit."""


def best_order(keys: Sequence[OrderKey], cost: FloatArray) -> tuple[list[int], float]:
    """The cheapest allowed order of the stops, and its cost.

    cost: shape (n + 1, n + 1); row and column 0 are the clean base, stop i of `keys` is i + 1. Exact while blocks of
    equal rank and rooms of a pass are few (`walk_blocks`, `walk_rooms`), else the best found.
    """
    solver = _Solver(cost)
    for group in grouped(keys, cost, block_costs):
        solver.add(group)
    return [stop - 1 for stop in solver.order()], solver.total()


def grouped(keys: Sequence[OrderKey], cost: FloatArray, price: PriceBlock) -> list[_Group]:
    """The groups in order, each room's sites cut into blocks of equal rank and priced by `price`."""
    numbered = sorted((key, n + 1) for n, key in enumerate(keys))
    groups = []
    for _, members in groupby(numbered, key=lambda one: one[0].group):
        rooms = [list(of_room) for _, of_room in groupby(members, key=lambda one: one[0].room)]
        visits = tuple(room_visit(_blocks(of_room), cost, price) for of_room in rooms)
        exits = np.concatenate([visit.exits for visit in visits])
        room = np.concatenate([np.full(len(visit.exits), n) for n, visit in enumerate(visits)])
        groups.append(_Group(visits, exits, room.astype(np.int64)))
    return groups


def _blocks(members: Sequence[tuple[OrderKey, int]]) -> list[IntArray]:
    by_rank = groupby(members, key=lambda one: one[0].rank)
    return [np.array([stop for _, stop in block], dtype=np.int64) for _, block in by_rank]


class _Solver:
    """Takes the groups one after the other and remembers by which exits each was passed."""

    def __init__(self, cost: FloatArray) -> None:
        self._cost = cost
        # The walk begins at the clean base, having spent nothing.
        self._ends = [np.array([0], dtype=np.int64)]
        self._spent = [np.zeros(1)]
        self._passed: list[tuple[_Group, IntArray]] = []

    def add(self, group: _Group) -> None:
        """Extend every way found so far through all rooms of the next group."""
        start = np.concatenate([self._from_before(visit).min(axis=(0, 1)) for visit in group.visits])
        spent, passed = best_room_order(start, steps_between(group, self._cost), group.room)
        self._ends.append(group.exits)
        self._spent.append(spent)
        self._passed.append((group, passed))

    def total(self) -> float:
        """The cost of the cheapest way through all groups."""
        return float(self._spent[-1].min())

    def order(self) -> list[int]:
        """The stops of the cheapest way, in order."""
        found: list[int] = []
        # Read backwards, group by group: each end knows the end before it.
        last = int(np.argmin(self._spent[-1]))
        for number in range(len(self._passed) - 1, -1, -1):
            group, passed = self._passed[number]
            through = [int(one) for one in passed[last]]
            tail = self._later_rooms(group, through)
            first, last = self._first_room(group, through[0], number)
            found = [*first, *tail, *found]
        return found

    def _from_before(self, visit: RoomVisit, number: int = -1) -> FloatArray:
        """Cost up to each exit of a visit, by the end before it and the entry taken, shape (ends, entries, exits)."""
        spent, link = self._spent[number], self._cost[np.ix_(self._ends[number], visit.entries)]
        total: FloatArray = (spent[:, None] + link)[:, :, None] + visit.costs[None, :, :]
        return total

    def _first_room(self, group: _Group, exit_: int, number: int) -> tuple[list[int], int]:
        """The stops of the group's first room, and the end of the group before from which it is reached."""
        visit, place = _visit_of(group, exit_)
        reached = self._from_before(visit, number)[:, :, place]
        before, entry = np.unravel_index(int(np.argmin(reached)), reached.shape)
        return visit.order(self._cost, int(entry), place), int(before)

    def _later_rooms(self, group: _Group, through: Sequence[int]) -> list[int]:
        found: list[int] = []
        for before, exit_ in pairwise(through):
            visit, place = _visit_of(group, exit_)
            link = self._cost[group.exits[before], visit.entries] + visit.costs[:, place]
            found.extend(visit.order(self._cost, int(np.argmin(link)), place))
        return found


def steps_between(group: _Group, cost: FloatArray) -> FloatArray:
    """Cost from each exit through another room to each exit of that room, shape (exits, exits)."""
    links = [(cost[np.ix_(group.exits, visit.entries)], visit.costs) for visit in group.visits]
    columns = [(link[:, :, None] + through).min(axis=1) for link, through in links]
    steps: FloatArray = np.concatenate(columns, axis=1)
    # A room is not entered twice in one pass.
    steps[group.room[:, None] == group.room[None, :]] = np.inf
    return steps


def _visit_of(group: _Group, exit_: int) -> tuple[RoomVisit, int]:
    """The visit that ends at this exit, and the exit's place among those of the visit."""
    number = int(group.room[exit_])
    return group.visits[number], exit_ - int(np.argmax(group.room == number))
