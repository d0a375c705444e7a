"""The compiled heart of the scan: rearranged detections and the largest ratio of each rearrangement."""

import numpy as np
from numba import njit

from swabwright.compute.philox import philox

ZERO = np.uint64(0)
SHIFT_32 = np.uint64(32)
WORDS_SPAN = 4294967296.0


@njit(cache=True, nogil=True)
def window_ratios(  # type: ignore[no-untyped-def]  # compiled; cells (sites, periods) of counts, out like base
    cells, windows, out
):
    """Write the log-likelihood ratio of every window; return the largest (0 when none is above its surroundings)."""
    order, whole, spans = windows[0], windows[1], windows[3]
    sites, periods = cells.shape
    best = 0.0
    before = np.zeros(periods + 1, np.int64)
    for centre in range(sites):
        before[:] = 0
        for k in range(last_window(whole[centre]) + 1):
            site, inside = order[centre, k], 0
            for t in range(periods):
                inside += cells[site, t]
                before[t + 1] += inside
            if whole[centre, k]:
                for s in range(spans.shape[0]):
                    c = before[spans[s, 1] + 1] - before[spans[s, 0]]
                    ratio = window_ratio(c, windows, centre, k, s)
                    if out.size:
                        out[centre, k, s] = ratio
                    best = max(best, ratio)
    return best


@njit(cache=True, nogil=True, inline="always")
def window_ratio(c, windows, centre, k, s):  # type: ignore[no-untyped-def]  # compiled
    """The log-likelihood ratio of `c` detections in one window; 0 unless they are denser than around it."""
    base, constant, (xlogx, total, everything), bernoulli = windows[2], windows[4], windows[5], windows[6]
    n = base[centre, k, s]
    if c * everything <= n * total:
        return 0.0
    ratio = constant[centre, k, s, 0] + xlogx[c] + xlogx[total - c]
    if bernoulli:
        m = np.int64(n)
        return ratio + xlogx[m - c] + xlogx[np.int64(everything) - m - total + c]
    return ratio - c * constant[centre, k, s, 1] - (total - c) * constant[centre, k, s, 2]


@njit(cache=True, nogil=True)
def last_window(whole):  # type: ignore[no-untyped-def]  # compiled; whole (sites,) of bool
    """The place of the widest window about one site, -1 when there is none."""
    for k in range(whole.size - 1, -1, -1):
        if whole[k]:
            return k
    return -1


@njit(cache=True, nogil=True)
def rearrange(  # type: ignore[no-untyped-def]  # compiled; owners (trials,) or cumulative (cells,)
    cells, owners, cumulative, total, which, key
):
    """Put `total` detections on the cells: among trials without repetition, or by exposure when there are none."""
    flat = cells.reshape(-1)
    flat[:] = 0
    pool = owners.copy()
    for j in range(total):
        word = philox(np.uint64(j), np.uint64(which), ZERO, ZERO, key[0], key[1])[0]
        if pool.size:
            pick = j + np.int64((word * np.uint64(pool.size - j)) >> SHIFT_32)
            pool[j], pool[pick] = pool[pick], pool[j]
            flat[pool[j]] += 1
        else:
            aim = (word + 0.5) / WORDS_SPAN * cumulative[-1]
            flat[np.searchsorted(cumulative, aim, side="right")] += 1


@njit(cache=True, nogil=True)
def largest_ratios(  # type: ignore[no-untyped-def]  # compiled; largest (rearrangements,) is filled
    first, largest, chance, windows, shape
):
    """Write the largest ratio of the rearrangements numbered from `first`."""
    owners, cumulative, key = chance
    total = windows[5][1]
    cells = np.zeros(shape, np.int64)
    nothing = np.zeros((0, 0, 0))
    for r in range(largest.size):
        rearrange(cells, owners, cumulative, total, first + r, key)
        largest[r] = window_ratios(cells, windows, nothing)
