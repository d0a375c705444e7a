"""The scan's clusters: the laws they keep, and what is refused."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from builders.scans import SEARCH, everything_in_view, invented
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.inference.scan import Cluster, Search, ratios_of, scan, sentence
from swabwright.inference.scan_tested import SitesTested
from swabwright.reports.banned import banned_phrases

LAW = settings(deadline=None, derandomize=True, max_examples=60)
SEEDS = st.integers(0, 10_000)
MODELS = st.sampled_from(["bernoulli", "poisson"])


def best_of(tested):
    windows = everything_in_view(tested)
    ratios = ratios_of(tested, windows)
    at = np.unravel_index(np.argmax(ratios), ratios.shape)
    first, last = windows.spans[at[2]]
    return at, float(ratios[at]), [(s, t) for s in windows.members(*at[:2]) for t in range(first, last + 1)]


@LAW
@given(SEEDS, MODELS)
def test_one_more_detection_inside_the_best_window_never_lowers_its_ratio(seed, model):
    tested = invented(seed, model)
    at, before, cells = best_of(tested)
    for cell in cells if before > 0 else []:
        if tested.detections[cell] < tested.base[cell]:
            more = tested.detections.copy()
            more[cell] += 1
            other = replace(tested, detections=more)
            assert ratios_of(other, everything_in_view(other))[at] >= before


@LAW
@given(SEEDS, MODELS, st.permutations(range(7)))
def test_the_order_in_which_sites_are_listed_changes_no_cluster_and_no_p(seed, model, order):
    one, at = invented(seed, model), list(order)
    names = tuple(one.sites[place] for place in at)
    other = SitesTested(names, one.detections[at], one.base[at], one.distances_m[np.ix_(at, at)], model)
    assert scan(other, SEARCH) == scan(one, SEARCH)


@LAW
@given(SEEDS, MODELS)
def test_names_in_the_same_order_only_rename_the_clusters(seed, model):
    one = invented(seed, model)
    other = replace(one, sites=tuple(f"drain {name}" for name in one.sites))
    renamed = [tuple(f"drain {name}" for name in found.sites) for found in scan(one, SEARCH)]
    assert [found.sites for found in scan(other, SEARCH)] == renamed
    assert [found.p for found in scan(other, SEARCH)] == [found.p for found in scan(one, SEARCH)]


@LAW
@given(SEEDS, MODELS)
def test_every_p_lies_between_one_in_all_arrangements_and_1(seed, model):
    found = scan(invented(seed, model), SEARCH)
    assert all(1 / (1 + SEARCH.rearrangements) <= one.p <= 1 for one in found)


@LAW
@given(SEEDS, MODELS)
def test_clusters_come_by_ratio_and_share_no_site_in_one_period(seed, model):
    found = scan(invented(seed, model), SEARCH)
    cells = [(s, t) for one in found for s in one.sites for t in range(one.first_period, one.last_period + 1)]
    assert len(cells) == len(set(cells))
    assert all(a.log_likelihood_ratio >= b.log_likelihood_ratio - 1e-9 for a, b in pairwise(found))


@LAW
@given(SEEDS, MODELS)
def test_a_cluster_counts_what_lies_inside_it(seed, model):
    tested = invented(seed, model)
    for one in scan(tested, SEARCH):
        inside = [tested.sites.index(site) for site in one.sites], slice(one.first_period, one.last_period + 1)
        assert one.detections == tested.detections[inside].sum()
        assert one.base == pytest.approx(tested.base[inside].sum())


@LAW
@given(SEEDS, MODELS)
def test_sites_without_a_way_between_them_share_no_cluster(seed, model):
    tested = invented(seed, model)
    apart = tested.distances_m.copy()
    apart[:3, 3:] = apart[3:, :3] = np.inf
    for one in scan(replace(tested, distances_m=apart), SEARCH):
        assert len({tested.sites.index(site) < 3 for site in one.sites}) == 1


@LAW
@given(SEEDS, MODELS)
def test_a_radius_holds_every_cluster(seed, model):
    found = scan(invented(seed, model), replace(SEARCH, radius_m=3.0))
    assert all(one.radius_m <= 3.0 for one in found)


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_nothing_detected_and_everything_detected_make_no_cluster(share):
    tested = invented(1)
    assert scan(replace(tested, detections=(tested.base * share).astype(np.int64)), SEARCH) == ()


def test_a_single_site_makes_no_cluster():
    assert scan(SitesTested(("D1",), np.array([[1]]), np.array([[2.0]]), np.zeros((1, 1))), SEARCH) == ()


def test_a_window_that_holds_every_detection_has_a_ratio_by_0_log_0():
    # All 3 of 3 inside, none of 9 around: 12 ln 12 - 3 ln 3 - 9 ln 9.
    distances = np.abs(np.arange(4.0)[:, None] - np.arange(4.0))
    tested = SitesTested(tuple("ABCD"), np.array([[3], [0], [0], [0]]), np.full((4, 1), 3.0), distances)
    assert scan(tested, SEARCH)[0].log_likelihood_ratio == pytest.approx(6.748022)


def crowd():
    distances = np.abs(np.arange(20.0)[:, None] - np.arange(20.0))
    counts = np.where(np.arange(20) < 5, 3, 0).reshape(-1, 1)
    return SitesTested(tuple(f"S{n:02}" for n in range(20)), counts, np.full((20, 1), 3.0), distances)


def test_a_crowd_of_detections_is_found_and_said_without_a_cause():
    search = Search(rearrangements=199)
    first = scan(crowd(), search)[0]
    assert first.sites == ("S00", "S01", "S02", "S03", "S04")
    assert sentence(first, crowd(), search) == (
        "15 detected of 15 at 5 sites within 2.0 m of S02 (S00, S01, S02, S03, S04): closer together than chance alone "
        "would put them (p = 0.005, 199 rearrangements). It says where, not why."
    )


def told(**changes):
    usual = Cluster("D1", ("D1",), 2, 2, 0.0, 3, 4.0, 1.0, 0.4)
    two = SitesTested(("D1",), np.zeros((1, 2), np.int64), np.ones((1, 2)), np.zeros((1, 1)), "poisson", (2, 5))
    return sentence(replace(usual, **changes), two, SEARCH)


def test_a_cluster_that_chance_often_makes_is_said_to_be_one():
    assert told() == (
        "3 detected in 4 of exposure at D1, period 2: no closer together than chance alone often puts them "
        "(p = 0.4, 19 rearrangements)."
    )


def test_a_cluster_over_several_periods_names_the_first_and_the_last():
    assert "at D1, periods 2 to 5: " in told(last_period=5)


def test_a_cluster_carries_the_numbers_its_periods_were_given():
    found = scan(replace(invented(5), periods=(3, 7)), SEARCH)
    assert {one.first_period for one in found} | {one.last_period for one in found} == {3, 7}


@LAW
@given(SEEDS, st.floats(0.0, 1.0))
def test_no_sentence_says_a_banned_word_or_a_cause(seed, level):
    tested, search = invented(seed), replace(SEARCH, level=level)
    said = " ".join(sentence(one, tested, search) for one in scan(tested, search))
    assert banned_phrases(said) == []
    assert not any(word in said for word in ("cause", "source", "because", "spread", "clean", "negative"))


@pytest.mark.parametrize(
    ("changes", "problem"),
    [
        ({"detections": np.array([[3], [0]])}, "site D1: more detections than samples"),
        ({"detections": np.array([[-1], [0]])}, "site D1: a count or an exposure is below 0"),
        ({"base": np.array([[2.0], [np.nan]])}, "site D2: a count or an exposure"),
        ({"base": np.array([[2.5], [2.0]])}, "site D1: samples are counted whole"),
        ({"base": np.array([[0.0], [2.0]]), "model": "poisson"}, "site D1: detections where nothing was tested"),
        ({"sites": ("D1", "D1")}, "site D1: stands more than once"),
        ({"distances_m": np.array([[0.0, 1.0], [2.0, 0.0]])}, "site D1 and site D2: not the same both ways"),
        ({"distances_m": np.array([[0.0, np.nan], [np.nan, 0.0]])}, "site D1 and site D2"),
        ({"distances_m": np.array([[1.0, 1.0], [1.0, 0.0]])}, "site D1 and site D1"),
        ({"distances_m": np.zeros((3, 3))}, "do not fit 2 sites"),
        ({"periods": (1, 2)}, "periods: 2 numbers for 1 periods"),
    ],
)
def test_what_cannot_be_is_refused_by_site(changes, problem):
    two = SitesTested(("D1", "D2"), np.array([[1], [0]]), np.full((2, 1), 2.0), np.array([[0.0, 1.0], [1.0, 0.0]]))
    with pytest.raises(SwabwrightError, match=problem):
        scan(replace(two, **changes), SEARCH)


@pytest.mark.parametrize(
    ("limit", "problem"),
    [
        ({"largest_share": 1.0}, "largest share: 1 must lie"),
        ({"radius_m": -1.0}, "radius: -1 m"),
        ({"rearrangements": 0}, "rearrangements: 0 is not 1 or more"),
    ],
)
def test_limits_that_are_none_are_refused(limit, problem):
    with pytest.raises(SwabwrightError, match=problem):
        scan(invented(1), Search(**limit))


def test_more_windows_than_fit_are_refused_before_they_are_made():
    with pytest.raises(SwabwrightError, match="windows are more than the 30000000 that fit: set a smaller radius"):
        scan(invented(1, sites=60, periods=400), SEARCH)


@pytest.mark.parametrize("model", ["bernoulli", "poisson"])
def test_more_samples_than_can_be_laid_anew_are_refused(model):
    many = invented(1, model)
    with pytest.raises(SwabwrightError, match="samples in all are more than the 1000000 that a scan can lay anew"):
        scan(replace(many, detections=many.detections * 10**6, base=many.base * 10**6), SEARCH)
