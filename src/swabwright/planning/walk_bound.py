"""Proved lower bounds on any allowed walk, so that the walk found can say how far it could be from the shortest."""

from collections.abc import Sequence
from itertools import groupby

import numpy as np
import numpy.typing as npt

from swabwright.planning import walk_blocks, walk_rooms
from swabwright.planning.walk_ascent import path_bound, spanning_cost
from swabwright.planning.walk_blocks import block_costs
from swabwright.planning.walk_order import OrderKey, _Group, grouped, steps_between

FloatArray = npt.NDArray[np.float64]


def lower_bound(keys: Sequence[OrderKey], cost: FloatArray) -> float:
    """The greater of two proved lower bounds on the cost of any allowed order; `cost` as in `best_order`.

    One joins the stops of each class by a spanning tree and adds the cheapest way from class to class; the other runs
    the search itself with everything that it does not solve exactly replaced by such trees.
    """
    return max(tree_bound(keys, cost), _relaxed_bound(keys, cost))


def tree_bound(keys: Sequence[OrderKey], cost: FloatArray) -> float:
    """A spanning tree per hygiene class, doors included, and the cheapest way from each class to the next."""
    numbered = sorted((key, n + 1) for n, key in enumerate(keys))
    total, before = 0.0, np.array([0])
    for _, members in groupby(numbered, key=lambda one: one[0].hygiene_class):
        stops = np.array([stop for _, stop in members])
        total += float(cost[np.ix_(before, stops)].min()) + spanning_cost(cost[np.ix_(stops, stops)])
        before = stops
    return total


def _relaxed_bound(keys: Sequence[OrderKey], cost: FloatArray) -> float:
    ends, spent = np.array([0]), np.zeros(1)
    for group in grouped(keys, cost, _price_from_below):
        start = np.concatenate(
            [
                ((spent[:, None] + cost[np.ix_(ends, visit.entries)]).min(axis=0)[:, None] + visit.costs).min(axis=0)
                for visit in group.visits
            ]
        )
        spent = _group_from_below(group, start, cost)
        ends = group.exits
    return float(spent.min())


def _price_from_below(cost: FloatArray) -> FloatArray:
    return block_costs(cost) if len(cost) <= walk_blocks.EXACT_UP_TO else path_bound(cost)


def _group_from_below(group: _Group, start: FloatArray, cost: FloatArray) -> FloatArray:
    """No way through the rooms of a group ends at an exit for less than this, by exit."""
    step = steps_between(group, cost)
    if len(group.visits) <= walk_rooms.EXACT_UP_TO:
        return walk_rooms.best_room_order(start, step, group.room)[0]
    return np.full(len(start), _way_over_rooms(group, start, step))


def _way_over_rooms(group: _Group, start: FloatArray, step: FloatArray) -> float:
    """The first room from outside, what every room costs inside, and no less than a way through all of them."""
    rooms = len(group.visits)
    inner = np.array([visit.costs.min() for visit in group.visits])
    near = np.full((rooms, rooms), np.inf)
    # A step holds the way to the room and through it; without the room's own cost it joins two rooms in either way.
    np.minimum.at(near, (group.room[:, None], group.room[None, :]), step - inner[group.room][None, :])
    # The walk enters one room from outside; which one is not known here, so the cheapest.
    first = min(float(start[group.room == n].min() - inner[n]) for n in range(rooms))
    near = np.minimum(near, near.T)
    np.fill_diagonal(near, 0.0)
    return first + float(inner.sum()) + float(path_bound(near).min())
