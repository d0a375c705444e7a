"""The rearrangements of a scan: the largest ratio of each is that of a plain loop, whoever works it out."""

from dataclasses import replace
from itertools import combinations
from math import sqrt

import numpy as np
import pytest
from builders.scans import everything_in_view, invented, plain_best
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.inference.scan import Search, ratios_of, rearranged, scan
from swabwright.inference.scan_kernels import rearrange, smallest_bases, smallest_in_space
from swabwright.inference.scan_tested import SitesTested

LAW = settings(deadline=None, derandomize=True, max_examples=60)
SEEDS = st.integers(0, 10_000)
MODELS = st.sampled_from(["bernoulli", "poisson"])
PERIODS = st.integers(1, 3)
WORDS = (np.uint64(1), np.uint64(0))


def played(tested, which):
    """The detections of one rearrangement under seed 1."""
    whole = tested.base.astype(np.int64).reshape(-1) * (tested.model == "bernoulli")
    owners, cells = np.repeat(np.arange(whole.size), whole), np.zeros(tested.base.shape, np.int64)
    rearrange(cells, owners, np.cumsum(tested.base), int(tested.detections.sum()), which, WORDS)
    return cells


@LAW
@given(SEEDS, MODELS, PERIODS)
def test_the_largest_ratio_of_what_was_found_is_that_of_a_plain_loop(seed, model, periods):
    tested = invented(seed, model, periods=periods)
    largest = max(ratios_of(tested, everything_in_view(tested)).max(initial=0.0), 0.0)
    assert largest == pytest.approx(plain_best(tested), abs=1e-9)


@LAW
@given(SEEDS, MODELS, PERIODS, st.booleans())
def test_the_largest_ratio_of_each_rearrangement_is_that_of_a_plain_loop(seed, model, periods, cut):
    tested = invented(seed, model, periods=periods)
    if cut:  # no way between the first three sites and the others
        tested.distances_m[:3, 3:] = tested.distances_m[3:, :3] = np.inf
    largest = rearranged(tested, everything_in_view(tested), Search(rearrangements=5))
    plain = [plain_best(replace(tested, detections=played(tested, which))) for which in range(5)]
    assert largest == pytest.approx(plain, abs=1e-9)


@LAW
@given(SEEDS, MODELS)
def test_the_way_for_one_period_finds_the_bases_that_the_way_for_several_finds(seed, model):
    tested = invented(seed, model, periods=1)
    windows = everything_in_view(tested)
    packed = windows.enters, windows.count, windows.base, windows.spans
    one, several = np.zeros((2, tested.detections.sum() + 1))
    smallest_in_space(tested.detections, packed, one)
    smallest_bases(tested.detections, packed, several)
    assert (one[1:] == several[1:]).all()


@pytest.mark.parametrize("periods", [1, 3])
def test_any_number_of_workers_gives_the_same_ratios_to_the_bit(periods):
    tested = invented(3, sites=20, periods=periods)
    windows, search = everything_in_view(tested), Search(rearrangements=1100)
    alone, *more = (rearranged(tested, windows, search, workers).tobytes() for workers in (1, 2, 5))
    assert all(one == alone for one in more)


def test_fewer_rearrangements_are_the_first_of_more():
    tested = invented(3)
    few, many = (rearranged(tested, everything_in_view(tested), Search(rearrangements=n)) for n in (7, 400))
    assert (many[:7] == few).all()


@LAW
@given(SEEDS, MODELS)
def test_a_rearrangement_keeps_the_sum_and_puts_nothing_where_nothing_was_tested(seed, model):
    tested = invented(seed, model)
    cells = played(tested, 4)
    assert cells.sum() == tested.detections.sum()
    assert (cells <= tested.base).all() if model == "bernoulli" else (cells[tested.base == 0] == 0).all()


def four_sites():
    """Three detections among four sites of two trials each: 56 ways to place them."""
    distances = np.abs(np.arange(4.0)[:, None] - np.arange(4.0))
    return SitesTested(tuple("ABCD"), np.array([[2], [1], [0], [0]]), np.full((4, 1), 2.0), distances)


def test_p_is_the_share_of_all_ways_to_place_the_detections():
    tested, played_times = four_sites(), 20_000
    ways = [np.array([[c.count(s)] for s in range(4)]) for c in combinations((0, 0, 1, 1, 2, 2, 3, 3), 3)]
    at_least = plain_best(tested) - 1e-9
    exact = np.mean([plain_best(replace(tested, detections=way)) >= at_least for way in ways])
    found = scan(tested, Search(rearrangements=played_times))[0].p
    assert found == pytest.approx(exact, abs=4 * sqrt(exact * (1 - exact) / played_times))


def test_exposure_draws_detections_in_its_proportion():
    tested = replace(four_sites(), base=np.array([[1.0], [2.0], [3.0], [0.0]]), model="poisson")
    total = np.sum([played(tested, which) for which in range(2000)], axis=0).reshape(-1) / 6000
    assert total == pytest.approx([1 / 6, 2 / 6, 3 / 6, 0.0], abs=4 * sqrt(0.25 / 6000))
