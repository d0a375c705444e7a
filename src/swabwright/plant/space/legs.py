"""The inner loop of the distance matrix, compiled."""

import numpy as np
import numpy.typing as npt
from numba import njit

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]


@njit(cache=True, nogil=True)
def cheapest_pairs(starts: IntArray, nodes: IntArray, metres: FloatArray, between: FloatArray) -> FloatArray:
    """Cheapest cost between points that enter a graph at several nodes each, shape (n, n), inf for no way.

    Point i enters at nodes[starts[i]:starts[i + 1]], `metres` away; `between` holds the cost from node to node.
    """
    count = len(starts) - 1
    cost = np.full((count, count), np.inf)
    for i in range(count):
        for a in range(starts[i], starts[i + 1]):
            row, first = between[nodes[a]], metres[a]
            for j in range(i + 1, count):
                for b in range(starts[j], starts[j + 1]):
                    total = first + row[nodes[b]] + metres[b]
                    if total < cost[i, j]:
                        cost[i, j] = total
        for j in range(i + 1, count):
            cost[j, i] = cost[i, j]
    return cost
