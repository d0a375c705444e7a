"""The scan statistic among tested sites: where, and when, detections stand closer together than chance.

Kulldorff and Nagarwalla, Stat Med 1995;14:799-810; Kulldorff, Commun Stat Theory Methods 1997;26:1481-1496.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from swabwright.compute.keys import stream_key
from swabwright.errors import SwabwrightError
from swabwright.inference.scan_kernels import largest_ratios, window_ratios
from swabwright.inference.windows import Floats, Ints, Windows, windows_of

NEARLY = 1e-9
"""Ratios that differ by less count as equal: sums in another order differ by rounding."""


@dataclass(frozen=True)
class SitesTested:
    """What was tested: detections and trials (or exposure) by site and period, and distances between sites."""

    sites: tuple[str, ...]
    detections: Ints
    base: Floats
    """(sites, periods): trials (whole numbers) of the Bernoulli model, exposure of the Poisson model."""
    distances_m: Floats
    model: str = "bernoulli"


@dataclass(frozen=True)
class Search:
    """How windows are drawn and how chance is played."""

    largest_share: float = 0.5
    radius_m: float | None = None
    rearrangements: int = 999
    seed: int = 1
    level: float = 0.05


@dataclass(frozen=True)
class Cluster:
    """A group of sites and periods where detections stand close, its ratio and its p among rearrangements."""

    centre: str
    sites: tuple[str, ...]
    first_period: int
    last_period: int
    radius_m: float
    detections: int
    base: float
    log_likelihood_ratio: float
    p: float


def scan(tested: SitesTested, search: Search) -> tuple[Cluster, ...]:
    """The clusters, largest ratio first, none sharing a site in the same period with an earlier one.

    Errors: SwabwrightError when counts or limits cannot be what they say.
    """
    _check(tested, search)
    windows = windows_of(tested.base, tested.distances_m, search.largest_share, search.radius_m)
    packed = _packed(tested, windows)
    ratios = np.zeros_like(windows.base)
    window_ratios(tested.detections, packed, ratios)
    largest = rearranged(tested, packed, search)
    return tuple(_cluster(tested, windows, ratios, largest, at) for at in _apart(windows, ratios))


def rearranged(tested: SitesTested, packed: tuple[object, ...], search: Search, first: int = 0) -> Floats:
    """The largest ratio of each rearrangement from number `first`; the same whichever way they are divided."""
    whole = tested.base.astype(np.int64).reshape(-1) if tested.model == "bernoulli" else np.zeros(0, np.int64)
    owners = np.repeat(np.arange(whole.size), whole)
    key = stream_key(search.seed, 0, 0)
    largest = np.zeros(search.rearrangements)
    words = (np.uint64(key[0]), np.uint64(key[1]))
    chance = (owners, np.cumsum(tested.base), words)
    largest_ratios(first, largest, chance, packed, tested.base.shape)
    return largest


def _check(tested: SitesTested, search: Search) -> None:
    if search.rearrangements < 1:
        raise SwabwrightError(f"rearrangements: {search.rearrangements} is not 1 or more")
    for site, counts, base in zip(tested.sites, tested.detections, tested.base, strict=True):
        if (counts < 0).any() or (base < 0).any() or not np.isfinite(base).all():
            raise SwabwrightError(f"site {site}: a count or an exposure is below 0 or not a number")
        if tested.model == "bernoulli" and (counts > base).any():
            raise SwabwrightError(f"site {site}: more detections than samples; check both columns")
        if (counts[base == 0] > 0).any():
            raise SwabwrightError(f"site {site}: detections where nothing was tested")


def _packed(tested: SitesTested, windows: Windows) -> tuple[object, ...]:
    """The kernel's arguments; what depends on a window alone is worked out once."""
    total, everything = int(tested.detections.sum()), float(tested.base.sum())
    bernoulli = tested.model == "bernoulli"
    xlogx = _xlogx(np.arange(int(everything) + 1 if bernoulli else total + 1, dtype=float))
    constant = np.zeros((*windows.base.shape, 3))
    if bernoulli:
        null = xlogx[total] + xlogx[int(everything) - total] - xlogx[int(everything)]
        constant[..., 0] = -_xlogx(windows.base) - _xlogx(everything - windows.base) - null
    else:
        expected = windows.base * total / everything if everything else windows.base
        constant[..., 1] = np.log(np.maximum(expected, np.finfo(float).tiny))
        constant[..., 2] = np.log(np.maximum(total - expected, np.finfo(float).tiny))
    tables = (xlogx, total, everything)
    return windows.order, windows.whole, windows.base, windows.spans, constant, tables, bernoulli


def _xlogx(x: Floats) -> Floats:
    """x log x, and 0 at 0."""
    return x * np.log(np.where(x > 0, x, 1.0))


def _apart(windows: Windows, ratios: Floats) -> Iterator[tuple[int, int, int]]:
    """Windows by ratio, the widest ratio first, those that touch a cell already taken left out."""
    taken: set[tuple[int, int]] = set()
    for flat in np.argsort(-np.round(ratios, SAME).reshape(-1), kind="stable"):
        centre, k, s = (int(one) for one in np.unravel_index(flat, ratios.shape))
        if ratios[centre, k, s] <= NEARLY:
            return
        a, b = windows.spans[s]
        cells = {(int(site), int(t)) for site in windows.order[centre, : k + 1] for t in range(a, b + 1)}
        if not cells & taken:
            taken |= cells
            yield centre, k, s


SAME = 9
"""Decimals of a ratio that order clusters."""


def _cluster(
    tested: SitesTested, windows: Windows, ratios: Floats, largest: Floats, at: tuple[int, int, int]
) -> Cluster:
    centre, k, s = at
    members = windows.order[centre, : k + 1]
    first, last = (int(one) for one in windows.spans[s])
    as_large = int((largest >= ratios[at] - NEARLY).sum())
    return Cluster(
        tested.sites[centre],
        tuple(sorted(tested.sites[one] for one in members)),
        *(first, last),
        float(windows.distances_m[centre, k]),
        int(tested.detections[members, first : last + 1].sum()),
        float(windows.base[at]),
        float(ratios[at]),
        (1 + as_large) / (1 + len(largest)),
    )


def sentence(cluster: Cluster, search: Search) -> str:
    """What a cluster says: where detections stand close, graded by p, never why."""
    what = f"{cluster.detections} detected of {cluster.base:g} at {len(cluster.sites)} sites within "
    where = f"{cluster.radius_m:.1f} m of {cluster.centre}"
    played = f"p = {cluster.p:.4g} of {search.rearrangements} rearrangements"
    if cluster.p <= search.level:
        return f"{what}{where}: closer together than chance alone, {played}. It says where, not why."
    return f"{what}{where}: chance alone does as much too often to tell, {played}."
