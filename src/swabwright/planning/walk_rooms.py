"""In which order to visit the rooms of one pass: exact over subsets while few, nearly so when many."""

import numpy as np
import numpy.typing as npt
from numba import njit

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

EXACT_UP_TO = 12
HAIR = 1e-9


def best_room_order(start: FloatArray, step: FloatArray, room: IntArray) -> tuple[FloatArray, IntArray]:
    """Cheapest ways through all rooms of a pass, by the exit at which they end.

    start: (exits,) cost of doing the exit's own room first, from wherever the walk stands; step: (exits, exits) cost
    of going from one exit through another room to that room's exit; room: (exits,) room of each exit, 0..R-1.
    Returns the cost by last exit, (exits,), and the exits passed for each last exit, (exits, R).
    """
    rooms = int(room.max()) + 1
    if rooms <= EXACT_UP_TO:
        return _exact_orders(start, step, room, rooms)
    return _near_orders(start, step, room, rooms)


@njit(cache=True, nogil=True)
def _exact_orders(start: FloatArray, step: FloatArray, room: IntArray, rooms: int) -> tuple[FloatArray, IntArray]:
    exits, full = len(start), (1 << rooms) - 1
    best = np.full((full + 1, exits), np.inf)
    before = np.full((full + 1, exits), -1, dtype=np.int64)
    for here in range(exits):
        # Row: the rooms visited so far, one bit each; column: the exit by which the last one was left.
        best[1 << room[here], here] = start[here]
    for mask in range(1, full):
        for here in range(exits):
            spent = best[mask, here]
            if spent == np.inf:
                continue
            for after in range(exits):
                wider = mask | 1 << room[after]
                if wider != mask and spent + step[here, after] < best[wider, after]:
                    best[wider, after] = spent + step[here, after]
                    before[wider, after] = here
    return best[full], _traced(before, room, rooms)


@njit(cache=True, nogil=True)
def _traced(before: IntArray, room: IntArray, rooms: int) -> IntArray:
    """The exits passed on the best way to each last exit, shape (exits, rooms)."""
    passed = np.full((len(room), rooms), -1, dtype=np.int64)
    for last in range(len(room)):
        mask, here = (1 << rooms) - 1, last
        for place in range(rooms - 1, -1, -1):
            passed[last, place] = here
            mask, here = mask ^ (1 << room[here]), before[mask, here]
            # An exit that no way reaches has no exit before it.
            if here < 0:
                break
    return passed


@njit(cache=True, nogil=True)
def _priced(order: IntArray, start: FloatArray, step: FloatArray, bounds: IntArray) -> tuple[FloatArray, IntArray]:
    """Cost by exit of visiting the rooms in this order (of the last room only), and each exit's best exit before.

    The exits of room r are bounds[r]:bounds[r + 1].
    """
    spent, before = np.full(len(start), np.inf), np.full(len(start), -1, dtype=np.int64)
    for exit_ in range(bounds[order[0]], bounds[order[0] + 1]):
        spent[exit_] = start[exit_]
    for place in range(1, len(order)):
        for after in range(bounds[order[place]], bounds[order[place] + 1]):
            for here in range(bounds[order[place - 1]], bounds[order[place - 1] + 1]):
                if spent[here] + step[here, after] < spent[after]:
                    spent[after] = spent[here] + step[here, after]
                    before[after] = here
    return spent, before


@njit(cache=True, nogil=True)
def _cheapest(order: IntArray, start: FloatArray, step: FloatArray, bounds: IntArray) -> float:
    spent, _ = _priced(order, start, step, bounds)
    return float(spent[bounds[order[-1]] : bounds[order[-1] + 1]].min())


@njit(cache=True, nogil=True)
def _near_orders(start: FloatArray, step: FloatArray, room: IntArray, rooms: int) -> tuple[FloatArray, IntArray]:
    bounds = np.searchsorted(room, np.arange(rooms + 1))
    best_cost, best_passed = np.full(len(start), np.inf), np.full((len(start), rooms), -1, dtype=np.int64)
    # Each room once as the first: what is nearest from the base need not start the best way.
    for first in range(rooms):
        order = _improved(_nearest_rooms(first, step, room, rooms), start, step, bounds)
        spent, before = _priced(order, start, step, bounds)
        for last in range(bounds[order[-1]], bounds[order[-1] + 1]):
            if spent[last] < best_cost[last]:
                best_cost[last] = spent[last]
                here = last
                for place in range(rooms - 1, -1, -1):
                    best_passed[last, place] = here
                    here = before[here]
    return best_cost, best_passed


@njit(cache=True, nogil=True)
def _nearest_rooms(first: int, step: FloatArray, room: IntArray, rooms: int) -> IntArray:
    near = np.full((rooms, rooms), np.inf)
    for here in range(len(room)):
        for after in range(len(room)):
            near[room[here], room[after]] = min(near[room[here], room[after]], step[here, after])
    order = np.empty(rooms, dtype=np.int64)
    taken = np.zeros(rooms, dtype=np.bool_)
    order[0] = first
    taken[first] = True
    for place in range(1, rooms):
        choice = -1
        for other in range(rooms):
            if not taken[other] and (choice < 0 or near[order[place - 1], other] < near[order[place - 1], choice]):
                choice = other
        order[place] = choice
        taken[choice] = True
    return order


@njit(cache=True, nogil=True)
def _improved(order: IntArray, start: FloatArray, step: FloatArray, bounds: IntArray) -> IntArray:
    """Reverse stretches and move single rooms until nothing shortens the way any more."""
    best = _cheapest(order, start, step, bounds)
    better = True
    while better:
        better = False
        for low in range(len(order)):
            for high in range(len(order)):
                for turned in (False, True):
                    trial = _changed(order, low, high, turned)
                    cost = _cheapest(trial, start, step, bounds)
                    if cost < best - HAIR:
                        best, order, better = cost, trial, True
    return order


@njit(cache=True, nogil=True)
def _changed(order: IntArray, low: int, high: int, turned: bool) -> IntArray:
    """The order with the stretch between two places turned round, or with the room at `low` moved to place `high`."""
    trial = order.copy()
    if turned:
        first, last = min(low, high), max(low, high)
        trial[first : last + 1] = order[first : last + 1][::-1]
    elif low < high:
        trial[low:high] = order[low + 1 : high + 1]
        trial[high] = order[low]
    else:
        trial[high] = order[low]
        trial[high + 1 : low + 1] = order[high:low]
    return trial
