"""The compiled heart of the scan: rearranged detections and the largest ratio of each rearrangement.

The windows about one site hold each other. Between two detections a window only gains base, and with the count
held the ratio falls as the base grows. So the largest ratio with c detections inside is that of the smallest
window that holds c of them, and a ratio is worked out once for each count, not once for each window.
"""

import numpy as np
from numba import njit

from swabwright.compute.philox import philox

ZERO = np.uint64(0)
SHIFT_32 = np.uint64(32)
WORDS_SPAN = 4294967296.0


@njit(cache=True, nogil=True)
def window_ratios(counts, base, chance):  # type: ignore[no-untyped-def]  # compiled; counts and base of one shape
    """The log-likelihood ratio of every window, in the shape of its counts; -1 where the base is infinite."""
    ratios = np.full(counts.size, -1.0)
    for w in range(counts.size):
        n = base.flat[w]
        if n < np.inf:
            ratios[w] = window_ratio(counts.flat[w], n, chance)
    return ratios.reshape(counts.shape)


@njit(cache=True, nogil=True)
def window_ratio(c, n, chance):  # type: ignore[no-untyped-def]  # compiled
    """The log-likelihood ratio of `c` detections in a base of `n`; 0 unless they are denser than around it."""
    xlogx, total, everything, bernoulli = chance
    if c * everything <= n * total:
        return 0.0
    if bernoulli:
        m, e = np.int64(n), np.int64(everything)
        inside = xlogx[c] + xlogx[m - c] - xlogx[m]
        around = xlogx[total - c] + xlogx[e - m - total + c] - xlogx[e - m]
        return inside + around - (xlogx[total] + xlogx[e - total] - xlogx[e])
    expected = n * total / everything
    ratio = c * np.log(c / expected)
    if c < total:
        ratio += (total - c) * np.log((total - c) / (total - expected))
    return ratio


@njit(cache=True, nogil=True)
def smallest_in_space(cells, windows, smallest):  # type: ignore[no-untyped-def]  # compiled; cells (sites, 1)
    """`smallest_bases` of a single period, in half the time: every window is taken, so nothing has to be foreseen."""
    enters, count, base = windows[0], windows[1], windows[2]
    sites = np.nonzero(cells)[0]
    detected = np.zeros(sites.size, np.int64)
    for h in range(sites.size):
        detected[h] = cells[sites[h], 0]
    inside = np.zeros(base.shape[1] + 1, np.int64)
    smallest[:] = np.inf
    for centre in range(enters.shape[0]):
        for h in range(sites.size):
            inside[enters[centre, sites[h]]] += detected[h]
        c = 0
        for w in range(count[centre]):
            c += inside[w]
            inside[w] = 0
            smallest[c] = min(smallest[c], base[centre, w, 0])
        inside[count[centre]] = 0


@njit(cache=True, nogil=True)
def smallest_bases(cells, windows, smallest):  # type: ignore[no-untyped-def]  # compiled; cells (sites, periods)
    """Write for each count of detections the smallest base of a window that holds so many; infinite when none."""
    enters, count, base, spans = windows
    sites, periods = np.nonzero(cells)
    inside = np.zeros((base.shape[1] + 1, cells.shape[1]), np.int64)
    gains = np.zeros(base.shape[1] + 1, np.bool_)
    before = np.zeros(cells.shape[1] + 1, np.int64)
    smallest[:] = np.inf
    for centre in range(enters.shape[0]):
        for h in range(sites.size):
            w = enters[centre, sites[h]]
            inside[w, periods[h]] += cells[sites[h], periods[h]]
            gains[w] = True
        before[:] = 0
        for w in range(count[centre]):
            if gains[w]:
                widen(before, inside, w)
                lower(smallest, before, base, (centre, w), spans)
                gains[w] = False
        inside[count[centre]] = 0
        gains[count[centre]] = False


@njit(cache=True, nogil=True, inline="always")
def widen(before, inside, w):  # type: ignore[no-untyped-def]  # compiled; before (periods + 1,)
    """Take what window `w` gains into the detections before each period, and empty it for the next site."""
    running = 0
    for t in range(inside.shape[1]):
        running += inside[w, t]
        before[t + 1] += running
        inside[w, t] = 0


@njit(cache=True, nogil=True, inline="always")
def lower(smallest, before, base, at, spans):  # type: ignore[no-untyped-def]  # compiled; at (centre, window)
    """Take one window's bases into the smallest base of each count."""
    for s in range(spans.shape[0]):
        c = before[spans[s, 1] + 1] - before[spans[s, 0]]
        smallest[c] = min(smallest[c], base[at[0], at[1], s])


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
    first, largest, play, windows, chance
):
    """Write the largest ratio of the rearrangements numbered from `first`; 0 when none is above its surroundings."""
    owners, cumulative, key, shape = play
    total = chance[1]
    cells = np.zeros(shape, np.int64)
    smallest = np.zeros(total + 1)
    for r in range(largest.size):
        rearrange(cells, owners, cumulative, total, first + r, key)
        if shape[1] == 1:
            smallest_in_space(cells, windows, smallest)
        else:
            smallest_bases(cells, windows, smallest)
        best = 0.0
        for c in range(1, total + 1):
            if smallest[c] < np.inf:
                best = max(best, window_ratio(c, smallest[c], chance))
        largest[r] = best
