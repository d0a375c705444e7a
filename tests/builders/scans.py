"""Invented results to scan, and the scan statistic as a plain loop over circles and spans."""

from math import log

import numpy as np

from swabwright.inference.scan import Search
from swabwright.inference.scan_tested import SitesTested
from swabwright.inference.windows import windows_of

SEARCH = Search(rearrangements=19)


def invented(seed, model="bernoulli", sites=7, periods=2):
    """Results at sites on a small grid, so that many distances are equal; now and then nothing was tested."""
    rng = np.random.default_rng(seed)
    points = rng.integers(0, 5, (sites, 2)).astype(float)
    base = rng.integers(0, 5, (sites, periods)).astype(float)
    detections = rng.binomial(base.astype(int), rng.uniform(0, 0.8))
    distances = np.linalg.norm(points[:, None] - points[None], axis=2)
    base *= 0.3 if model == "poisson" else 1.0
    return SitesTested(tuple(f"S{n}" for n in range(sites)), detections, base, distances, model)


def everything_in_view(tested):
    """The windows with at most half of what was tested."""
    return windows_of(tested.base, tested.distances_m, 0.5, None)


def plain_best(tested):
    """The largest ratio of all windows, by a loop over centres, radii and spans."""
    best, total, everything = 0.0, tested.detections.sum(), tested.base.sum()
    for row in tested.distances_m:
        for radius in row[np.isfinite(row)]:
            near = row <= radius
            if tested.base[near].sum() > everything / 2 * (1 + 1e-12):
                continue
            for a in range(tested.base.shape[1]):
                for b in range(a, tested.base.shape[1]):
                    c, n = (x[near, a : b + 1].sum() for x in (tested.detections, tested.base))
                    best = max(best, plain_ratio(c, n, total, everything, tested.model))
    return best


def plain_ratio(c, n, total, everything, model):
    """The log-likelihood ratio of one window as the papers write it."""
    # Equal densities in decimals may differ in the last bit; a ratio of 0 either way.
    if c * everything <= n * total * (1 + 1e-12):
        return 0.0
    if model == "poisson":
        e = n * total / everything
        return part(c, e) + part(total - c, total - e)
    out = (total - c, everything - n)
    inside = part(c, n) + part(n - c, n) + part(out[0], out[1]) + part(out[1] - out[0], out[1])
    return inside - part(total, everything) - part(everything - total, everything)


def part(x, y):
    """x ln(x / y), and 0 at 0."""
    return x * log(x / y) if x else 0.0
