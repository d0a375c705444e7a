"""The cheapest way to meet what a set of items still lacks: one needed item after the other, compiled."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.planning.problem import Problem

Array = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]
NONE = -1


class Filler:
    """Completes sets of items to every must and minimum of one problem; made once, asked thousands of times."""

    def __init__(self, problem: Problem, open_items: Mask, groups: Mask, spends: Array) -> None:
        """open_items: (Q,) that may be taken. groups: (groups, sites). spends: (budgets, Q)."""
        charges = problem.charges
        machines = charges.per_machine if charges.per_machine.size else np.zeros(1)
        self._labels = (problem.site, problem.room, problem.machine, problem.hygiene_class)
        self._costs = (problem.minutes, problem.tie, spends, charges.per_room, machines, charges.per_class_change)
        self._open = open_items
        self._groups = np.ascontiguousarray(groups)

    def cheapest(
        self, items: Sequence[int], lacking: npt.NDArray[np.int64], must: Mask, left: Array
    ) -> list[int] | None:
        """The items and those added, most needed first, then cheapest; None when something lacking cannot be had.

        lacking: sites still lacking per group. must: (sites,) still to be taken. left: what is left of each budget.
        """
        state = (lacking.copy(), must.copy(), left.copy())
        added = _fill(np.array(items, dtype=np.int64), self._labels, self._costs, (self._open, self._groups), state)
        return None if added.size and added[-1] == NONE else [*items, *added.tolist()]

    def from_list(
        self, items: Sequence[int], lacking: npt.NDArray[np.int64], must: Mask, spare: Sequence[int]
    ) -> list[int]:
        """The items and those of `spare`, in its order, that serve what is lacking then."""
        done, lacking, must = list(items), lacking.copy(), must.copy()
        taken = set(self._labels[0][done].tolist())
        for item in spare:
            site = int(self._labels[0][item])
            serves = self._groups[:, site] & (lacking > 0)
            if site not in taken and self._open[item] and (must[site] or serves.any()):
                done.append(item)
                taken.add(site)
                lacking[self._groups[:, site]] -= 1
                must[site] = False
        return done


@njit(cache=True, nogil=True)
def _fill(items, labels, costs, allowed, state):  # type: ignore[no-untyped-def]  # compiled helper
    """Add the item that serves most groups (musts before all), then the cheapest, until nothing is lacking."""
    site, spends, groups = labels[0], costs[2], allowed[1]
    lacking, must, left = state
    used = _used(items, labels, must.size, costs[4].size)
    added = np.empty(must.size + 1, dtype=np.int64)
    many = 0
    while must.any() or (lacking > 0).any():
        best = _most_needed(labels, costs, allowed, state, used)
        added[many] = best
        many += 1
        if best == NONE:
            break
        _mark(used, labels, best)
        must[site[best]] = False
        lacking -= groups[:, site[best]]
        left -= spends[:, best]
    return added[:many]


@njit(cache=True, nogil=True)
def _most_needed(labels, costs, allowed, state, used):  # type: ignore[no-untyped-def]  # compiled helper
    """The item to add next, or NONE when none serves what is lacking."""
    site, (open_items, groups), (lacking, must, left) = labels[0], allowed, state
    tie, spends = costs[1], costs[2]
    best, best_serves, best_cost, only_musts = NONE, 0, np.inf, must.any()
    for item in range(site.size):
        if not open_items[item] or used[0][site[item]] or (only_musts and not must[site[item]]):
            continue
        serves = int(only_musts) + _serves(groups, lacking, site[item])
        if serves < max(best_serves, 1) or _exceeds(spends, left, item):
            continue
        cost = _cost(labels, costs, used, item)
        same = serves == best_serves
        if same and (cost > best_cost or (cost == best_cost and tie[item] > tie[best])):
            continue
        best, best_serves, best_cost = item, serves, cost
    return best


@njit(cache=True, nogil=True)
def _serves(groups, lacking, site):  # type: ignore[no-untyped-def]  # compiled helper
    """Groups that lack a site and hold this one."""
    many = 0
    for group in range(lacking.size):
        many += int(lacking[group] > 0 and groups[group, site])
    return many


@njit(cache=True, nogil=True)
def _exceeds(spends, left, item):  # type: ignore[no-untyped-def]  # compiled helper
    """Whether the item takes more of some budget than is left."""
    exceeds = False
    for budget in range(left.size):
        exceeds |= spends[budget, item] > left[budget]
    return exceeds


@njit(cache=True, nogil=True)
def _cost(labels, costs, used, item):  # type: ignore[no-untyped-def]  # compiled helper
    """Minutes that an item adds: its own, and the charges not yet paid."""
    _site, room, machine, rank = labels
    minutes, _tie, _spends, per_room, per_machine, per_change = costs
    cost = minutes[item] + (0.0 if used[1][room[item]] else per_room)
    if machine[item] >= 0 and not used[2][machine[item]]:
        cost += per_machine[machine[item]]
    return cost + (per_change if used[3].any() and not used[3][rank[item]] else 0.0)


@njit(cache=True, nogil=True)
def _used(items, labels, sites, machines):  # type: ignore[no-untyped-def]  # compiled helper
    """Which sites, rooms, machines and classes the items use."""
    _site, room, _machine, rank = labels
    used = (
        np.zeros(sites, dtype=np.bool_),
        np.zeros(room.max() + 1, dtype=np.bool_),
        np.zeros(machines, dtype=np.bool_),
        np.zeros(rank.max() + 1, dtype=np.bool_),
    )
    for item in items:
        _mark(used, labels, item)
    return used


@njit(cache=True, nogil=True)
def _mark(used, labels, item):  # type: ignore[no-untyped-def]  # compiled helper
    site, room, machine, rank = labels
    used[0][site[item]] = True
    used[1][room[item]] = True
    used[3][rank[item]] = True
    if machine[item] >= 0:
        used[2][machine[item]] = True
