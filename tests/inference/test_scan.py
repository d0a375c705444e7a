"""The scan against a plain loop, and its laws."""

from math import log

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.inference.scan import Search, SitesTested, _packed, rearranged, scan, sentence
from swabwright.inference.scan_kernels import window_ratios
from swabwright.inference.windows import windows_of


def invented(seed, model="bernoulli", sites=7, periods=2):
    rng = np.random.default_rng(seed)
    points = rng.uniform(0, 10, (sites, 2))
    base = rng.integers(1, 5, (sites, periods)).astype(float)
    detections = rng.binomial(base.astype(int), 0.4)
    distances = np.linalg.norm(points[:, None] - points[None], axis=2)
    return SitesTested(tuple(f"S{n}" for n in range(sites)), detections, base, distances, model)


def part(x, y):
    return x * log(x / y) if x else 0.0


def plain_ratio(c, n, total, everything, model):
    if c * everything <= n * total:
        return 0.0
    if model == "poisson":
        e = n * total / everything
        return part(c, e) + part(total - c, total - e)
    out = (total - c, everything - n)
    inside = part(c, n) + part(n - c, n) + part(out[0], out[1]) + part(out[1] - out[0], out[1])
    return inside - part(total, everything) - part(everything - total, everything)


def plain_best(tested):
    best, total, everything = 0.0, tested.detections.sum(), tested.base.sum()
    for row in tested.distances_m:
        for radius in row:
            near = row <= radius
            if tested.base[near].sum() > everything / 2:
                continue
            for a in range(tested.base.shape[1]):
                for b in range(a, tested.base.shape[1]):
                    c, n = (x[near, a : b + 1].sum() for x in (tested.detections, tested.base))
                    best = max(best, plain_ratio(c, n, total, everything, tested.model))
    return best


def ratios(tested):
    windows = windows_of(tested.base, tested.distances_m, 0.5, None)
    out = np.zeros_like(windows.base)
    window_ratios(tested.detections, _packed(tested, windows), out)
    return out


@pytest.mark.parametrize("model", ["bernoulli", "poisson"])
@pytest.mark.parametrize("seed", range(8))
def test_the_largest_ratio_is_that_of_a_plain_loop(seed, model):
    tested = invented(seed, model)
    assert ratios(tested).max() == pytest.approx(plain_best(tested), abs=1e-9)


@settings(deadline=None, derandomize=True, max_examples=30)
@given(st.integers(0, 10_000), st.permutations(range(7)))
def test_another_order_of_sites_changes_no_ratio(seed, order):
    one, at = invented(seed), list(order)
    other = SitesTested(one.sites, one.detections[at], one.base[at], one.distances_m[np.ix_(at, at)])
    assert ratios(other).max() == pytest.approx(ratios(one).max(), abs=1e-9)


@settings(deadline=None, derandomize=True, max_examples=30)
@given(st.integers(0, 10_000))
def test_every_p_lies_above_0_and_up_to_1(seed):
    assert all(0 < one.p <= 1 for one in scan(invented(seed), Search(rearrangements=19)))


@settings(deadline=None, derandomize=True, max_examples=30)
@given(st.integers(0, 10_000))
def test_clusters_share_no_site_in_one_period(seed):
    found = scan(invented(seed), Search(rearrangements=1))
    cells = [(s, t) for one in found for s in one.sites for t in range(one.first_period, one.last_period + 1)]
    assert len(cells) == len(set(cells))


def test_rearrangements_are_the_same_however_they_are_divided():
    tested = invented(3)
    packed = _packed(tested, windows_of(tested.base, tested.distances_m, 0.5, None))
    halves = [rearranged(tested, packed, Search(rearrangements=10), first) for first in (0, 10)]
    assert (np.concatenate(halves) == rearranged(tested, packed, Search(rearrangements=20))).all()


def test_a_crowd_of_detections_is_found_and_said_without_a_cause():
    distances = np.abs(np.arange(20.0)[:, None] - np.arange(20.0))
    counts = np.where(np.arange(20) < 5, 3, 0).reshape(-1, 1)
    search = Search(rearrangements=199)
    first = scan(SitesTested(tuple(f"S{n:02}" for n in range(20)), counts, np.full((20, 1), 3.0), distances), search)[0]
    assert first.sites == ("S00", "S01", "S02", "S03", "S04")
    assert "closer together than chance alone, p = 0.005 of 199" in sentence(first, search)


def test_more_detections_than_samples_are_refused_by_site():
    bad = SitesTested(("D1",), np.array([[3]]), np.array([[2.0]]), np.zeros((1, 1)))
    with pytest.raises(SwabwrightError, match="site D1: more detections"):
        scan(bad, Search())
