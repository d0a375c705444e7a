"""A bound from below on a way through many sites: spanning trees with penalties that pull every site to two ends."""

import numpy as np
import numpy.typing as npt
from numba import njit

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

ROUNDS = 200
SHRINK = 0.97


def path_bound(cost: FloatArray) -> FloatArray:
    """No way through all sites from one to another costs less, by first and last site; shape (m, m), inf on itself.

    `cost` is symmetric, shape (m, m), m >= 2. Lagrangean ascent over spanning trees (Held and Karp, Oper Res
    1970;18:1138), for an open way: its two ends keep one link.
    """
    tree, penalty = _ascent(cost, ROUNDS)
    below: FloatArray = tree - 2.0 * penalty.sum() + penalty[:, None] + penalty[None, :]
    np.fill_diagonal(below, np.inf)
    return below


def spanning_cost(cost: FloatArray) -> float:
    """Cost of the cheapest tree that joins all sites: no way through all of them costs less (Prim 1957)."""
    tree: float = _tree(cost, np.zeros(len(cost)))[0]
    return tree


@njit(cache=True, nogil=True)
def _ascent(cost: FloatArray, rounds: int) -> tuple[float, FloatArray]:
    """The tree's cost and the penalties of the best bound met."""
    penalty = np.zeros(len(cost))
    tree, _ = _tree(cost, penalty)
    best, best_tree, best_penalty = -np.inf, tree, penalty.copy()
    # A first stride of half a mean link moves penalties at the scale of the links.
    stride = tree / (2.0 * len(cost))
    for _ in range(rounds):
        tree, links = _tree(cost, penalty)
        # Any two sites may be the ends, so the two cheapest must be assumed.
        ends = np.argsort(penalty)[:2]
        value = tree - 2.0 * penalty.sum() + penalty[ends[0]] + penalty[ends[1]]
        if value > best:
            best, best_tree, best_penalty = value, tree, penalty.copy()
        # A way has two links at each site and one at its ends; a tree pays where it differs.
        wanted = np.full(len(cost), 2)
        wanted[ends] = 1
        penalty = penalty + stride * (links - wanted)
        stride *= SHRINK
    return best_tree, best_penalty


@njit(cache=True, nogil=True)
def _tree(cost: FloatArray, penalty: FloatArray) -> tuple[float, IntArray]:
    """The cheapest tree with a penalty on each end of a link, and the links of each site."""
    size = len(cost)
    near, parent = np.full(size, np.inf), np.full(size, -1, dtype=np.int64)
    joined, links = np.zeros(size, dtype=np.bool_), np.zeros(size, dtype=np.int64)
    near[0] = 0.0
    total = 0.0
    for _ in range(size):
        here = -1
        for site in range(size):
            if not joined[site] and (here < 0 or near[site] < near[here]):
                here = site
        joined[here] = True
        total += near[here]
        if parent[here] >= 0:
            links[here] += 1
            links[parent[here]] += 1
        for site in range(size):
            link = min(cost[here, site], cost[site, here]) + penalty[here] + penalty[site]
            if not joined[site] and link < near[site]:
                near[site], parent[site] = link, here
    return total, links
