"""The way through a handful of sites that may be taken in any order: exact while few, nearly so when many."""

import numpy as np
import numpy.typing as npt
from numba import njit

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

EXACT_UP_TO = 10
"""Beyond so many sites the exact search (Held and Karp, J SIAM 1962;10:196) costs more than it gains."""

HAIR = 1e-9


def block_costs(cost: FloatArray) -> FloatArray:
    """Cost of the way through all sites from each first to each last one, shape (m, m); inf where impossible.

    `cost` is symmetric, shape (m, m). Exact up to `EXACT_UP_TO` sites, else nearest neighbour, 2-opt and Or-opt.
    """
    best: FloatArray = _exact_costs(cost) if len(cost) <= EXACT_UP_TO else _near_costs(cost)
    return best


def block_path(cost: FloatArray, first: int, last: int) -> IntArray:
    """The order of the sites on the way that `block_costs` prices from `first` to `last`."""
    if len(cost) > EXACT_UP_TO:
        order: IntArray = _near_path(cost, first, last)
        return order
    _, before = _exact_from(cost, first)
    mask, here, found = (1 << len(cost)) - 1, last, [last]
    while here != first:
        mask, here = mask ^ (1 << here), int(before[mask, here])
        found.append(here)
    return np.array(found[::-1], dtype=np.int64)


@njit(cache=True, nogil=True)
def _exact_from(cost: FloatArray, first: int) -> tuple[FloatArray, npt.NDArray[np.int8]]:
    size = len(cost)
    best = np.full((1 << size, size), np.inf)
    before = np.full((1 << size, size), -1, dtype=np.int8)
    # Row: the sites taken so far, one bit each; column: where the way stands.
    best[1 << first, first] = 0.0
    for mask in range(1 << size):
        for here in range(size):
            spent = best[mask, here]
            if spent == np.inf:
                continue
            for after in range(size):
                if mask >> after & 1:
                    continue
                total, wider = spent + cost[here, after], mask | 1 << after
                if total < best[wider, after]:
                    best[wider, after] = total
                    before[wider, after] = here
    return best, before


@njit(cache=True, nogil=True)
def _exact_costs(cost: FloatArray) -> FloatArray:
    size = len(cost)
    costs = np.empty((size, size))
    for first in range(size):
        best, _ = _exact_from(cost, first)
        costs[first] = best[-1]
    return costs


@njit(cache=True, nogil=True)
def _near_costs(cost: FloatArray) -> FloatArray:
    size = len(cost)
    costs = np.full((size, size), np.inf)
    for first in range(size):
        # Both directions cost the same, so each pair is improved once.
        for last in range(first + 1, size):
            costs[first, last] = costs[last, first] = _length(cost, _near_path(cost, first, last))
    return costs


@njit(cache=True, nogil=True)
def _near_path(cost: FloatArray, first: int, last: int) -> IntArray:
    # Always searched from the lower number, so that the price and the path of a pair agree.
    low, high = min(first, last), max(first, last)
    order = _nearest_neighbour(cost, low, high)
    while _reversals(cost, order) or _moves(cost, order):
        pass
    return order if low == first else order[::-1].copy()


@njit(cache=True, nogil=True)
def _length(cost: FloatArray, order: IntArray) -> float:
    total = 0.0
    for step in range(len(order) - 1):
        total += cost[order[step], order[step + 1]]
    return total


@njit(cache=True, nogil=True)
def _nearest_neighbour(cost: FloatArray, first: int, last: int) -> IntArray:
    size = len(cost)
    order = np.empty(size, dtype=np.int64)
    taken = np.zeros(size, dtype=np.bool_)
    order[0], order[-1] = first, last
    taken[first] = taken[last] = True
    for step in range(1, size - 1):
        near = -1
        for site in range(size):
            if not taken[site] and (near < 0 or cost[order[step - 1], site] < cost[order[step - 1], near]):
                near = site
        order[step] = near
        taken[near] = True
    return order


@njit(cache=True, nogil=True)
def _reversals(cost: FloatArray, order: IntArray) -> bool:
    """Turn round, in one sweep, every stretch between the ends whose reversal shortens the way (2-opt)."""
    shorter = False
    for low in range(1, len(order) - 2):
        for high in range(low + 1, len(order) - 1):
            a, b, c, d = order[low - 1], order[low], order[high], order[high + 1]
            if cost[a, c] + cost[b, d] < cost[a, b] + cost[c, d] - HAIR:
                order[low : high + 1] = order[low : high + 1][::-1].copy()
                shorter = True
    return shorter


@njit(cache=True, nogil=True)
def _moves(cost: FloatArray, order: IntArray) -> bool:
    """Move, in one sweep, stretches of one to three sites that lie better elsewhere between the ends (Or 1976)."""
    shorter = False
    # Longer stretches seldom gain and cost a sweep each.
    for span in range(1, 4):
        for low in range(1, len(order) - span):
            gap = _better_gap(cost, order, low, span)
            if gap >= 0:
                _shift(order, low, span, gap)
                shorter = True
    return shorter


@njit(cache=True, nogil=True)
def _better_gap(cost: FloatArray, order: IntArray, low: int, span: int) -> int:
    """The first gap into which the stretch fits for less than where it stands; -1 when there is none."""
    a, b, c, d = order[low - 1], order[low], order[low + span - 1], order[low + span]
    saved = cost[a, b] + cost[c, d] - cost[a, d]
    for gap in range(len(order) - 1):
        if low - 1 <= gap < low + span:
            continue
        e, f = order[gap], order[gap + 1]
        if cost[e, b] + cost[c, f] - cost[e, f] < saved - HAIR:
            return gap
    return -1


@njit(cache=True, nogil=True)
def _shift(order: IntArray, low: int, span: int, gap: int) -> None:
    moved = order[low : low + span].copy()
    if gap < low:
        order[gap + 1 + span : low + span] = order[gap + 1 : low].copy()
        order[gap + 1 : gap + 1 + span] = moved
    else:
        order[low : gap + 1 - span] = order[low + span : gap + 1].copy()
        order[gap + 1 - span : gap + 1] = moved
