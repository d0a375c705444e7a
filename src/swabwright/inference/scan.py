"""The scan statistic among tested sites: where, and when, detections stand closer together than chance.

Kulldorff and Nagarwalla, Stat Med 1995;14:799-810; Kulldorff, Commun Stat Theory Methods 1997;26:1481-1496.
"""

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from scipy.special import xlogy

from swabwright.compute.executor import map_chunks
from swabwright.compute.keys import stream_key
from swabwright.errors import SwabwrightError
from swabwright.inference.scan_kernels import largest_ratios, window_ratios
from swabwright.inference.scan_tested import SitesTested, check_tested
from swabwright.inference.windows import Floats, Windows, windows_of

NEARLY = 1e-9
"""Ratios that differ by less count as equal: sums in another order differ by rounding."""


AT_A_TIME = 250
"""Rearrangements that one worker takes at once."""

At = tuple[int, int, int]
"""A centre, a window about it, a span of periods."""


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
    """The number of the period, as it was given."""
    last_period: int
    radius_m: float
    detections: int
    base: float
    log_likelihood_ratio: float
    p: float


def scan(tested: SitesTested, search: Search, workers: int = 2) -> tuple[Cluster, ...]:
    """The clusters, largest ratio first, none sharing a site in the same period with an earlier one.

    Sites are taken in the order of their names, so that listing them otherwise changes neither clusters nor p;
    nor does the number of workers. Errors: SwabwrightError when counts, distances or limits cannot be what they say.
    """
    check_tested(tested)
    if search.rearrangements < 1:
        raise SwabwrightError(f"rearrangements: {search.rearrangements} is not 1 or more")
    tested = _by_name(tested)
    windows = windows_of(tested.base, tested.distances_m, search.largest_share, search.radius_m)
    ratios = ratios_of(tested, windows)
    found = tuple(_apart(windows, ratios))
    largest = rearranged(tested, windows, search, workers) if found else np.zeros(0)
    return tuple(_cluster(tested, windows, ratios, largest, at) for at in found)


def ratios_of(tested: SitesTested, windows: Windows) -> Floats:
    """(sites, windows, spans): the log-likelihood ratio of each window; -1 past the last window about a site."""
    counts = np.zeros((len(tested.sites), windows.base.shape[1] + 1, tested.base.shape[1]), np.int64)
    for centre, enters in enumerate(windows.enters):
        np.add.at(counts[centre], enters, tested.detections)
    inside = np.cumsum(counts[:, :-1], axis=1)
    by_span = [inside[:, :, a : b + 1].sum(axis=2) for a, b in windows.spans]
    return np.asarray(window_ratios(np.stack(by_span, axis=2), windows.base, _chance(tested)))


def rearranged(tested: SitesTested, windows: Windows, search: Search, workers: int = 2) -> Floats:
    """The largest ratio of each rearrangement; each has its own random words, whoever works it out."""
    whole = tested.base.astype(np.int64).reshape(-1) if tested.model == "bernoulli" else np.zeros(0, np.int64)
    key = stream_key(search.seed, 0, 0)
    words = (np.uint64(key[0]), np.uint64(key[1]))
    play = (np.repeat(np.arange(whole.size), whole), np.cumsum(tested.base), words, tested.base.shape)
    packed, chance = (windows.enters, windows.count, windows.base, windows.spans), _chance(tested)
    largest = np.zeros(search.rearrangements)

    def work(first: int) -> None:
        largest_ratios(first, largest[first : first + AT_A_TIME], play, packed, chance)

    deque(map_chunks(work, range(0, len(largest), AT_A_TIME), workers), maxlen=0)
    return largest


def _by_name(tested: SitesTested) -> SitesTested:
    """The same with sites in the order of their names."""
    at = np.array(sorted(range(len(tested.sites)), key=lambda place: tested.sites[place]), dtype=np.int64)
    names = tuple(tested.sites[place] for place in at)
    distances = tested.distances_m[np.ix_(at, at)]
    return replace(tested, sites=names, detections=tested.detections[at], base=tested.base[at], distances_m=distances)


def _chance(tested: SitesTested) -> tuple[object, ...]:
    """What every ratio needs: x log x of whole numbers (0 at 0), all detections, all trials, and the model."""
    total, everything, bernoulli = int(tested.detections.sum()), float(tested.base.sum()), tested.model == "bernoulli"
    numbers = np.arange(int(everything) + 1 if bernoulli else 1, dtype=float)
    return xlogy(numbers, numbers), total, everything, bernoulli


def _apart(windows: Windows, ratios: Floats) -> Iterator[At]:
    """Windows by ratio, the largest first, those that touch a cell already taken left out."""
    left = np.round(ratios, SAME)
    while left.max(initial=-1.0) > NEARLY:
        # The same sites may be held by windows about several of them: the narrowest tells best where they are.
        equal = np.argwhere(left == left.max())
        centre, window, span = (int(one) for one in equal[np.argmin(windows.radius_m[equal[:, 0], equal[:, 1]])])
        yield centre, window, span
        left[windows.touching(centre, window, span)] = -1.0


SAME = 9
"""Decimals of a ratio that order clusters."""


def _cluster(tested: SitesTested, windows: Windows, ratios: Floats, largest: Floats, at: At) -> Cluster:
    centre, window, span = at
    members = windows.members(centre, window)
    first, last = (int(one) for one in windows.spans[span])
    as_large = int((largest >= ratios[at] - NEARLY).sum())
    return Cluster(
        tested.sites[centre],
        tuple(tested.sites[one] for one in members),
        tested.period(first),
        tested.period(last),
        float(windows.radius_m[centre, window]),
        int(tested.detections[members, first : last + 1].sum()),
        float(windows.base[at]),
        float(ratios[at]),
        (1 + as_large) / (1 + len(largest)),
    )


def sentence(cluster: Cluster, tested: SitesTested, search: Search) -> str:
    """What a cluster says: where and when detections stand close, graded by p, never why."""
    played = f"(p = {cluster.p:.4g}, {search.rearrangements} rearrangements)"
    found = f"{cluster.detections} detected {_of(cluster, tested)} {_where(cluster)}{_when(cluster, tested)}"
    if cluster.p <= search.level:
        return f"{found}: closer together than chance alone would put them {played}. It says where, not why."
    return f"{found}: no closer together than chance alone often puts them {played}."


def _of(cluster: Cluster, tested: SitesTested) -> str:
    return f"of {cluster.base:g}" if tested.model == "bernoulli" else f"in {cluster.base:g} of exposure"


def _where(cluster: Cluster) -> str:
    if len(cluster.sites) == 1:
        return f"at {cluster.centre}"
    named = ", ".join(cluster.sites)
    return f"at {len(cluster.sites)} sites within {cluster.radius_m:.1f} m of {cluster.centre} ({named})"


def _when(cluster: Cluster, tested: SitesTested) -> str:
    """The periods, where there is more than one to tell from."""
    if tested.base.shape[1] == 1:
        return ""
    if cluster.first_period == cluster.last_period:
        return f", period {cluster.first_period}"
    return f", periods {cluster.first_period} to {cluster.last_period}"
