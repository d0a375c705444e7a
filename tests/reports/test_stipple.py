"""The stipple: exactly 1,000 dots, never touching, and hardly moved by a recount."""

from functools import cache

import pytest
from builders.papers import SHARES, believed
from builders.smokehouse import smokehouse
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.distance import pdist
from shapely import Point

from swabwright.errors import SwabwrightError
from swabwright.reports.footprints import floor, footprint
from swabwright.reports.stipple import largest_remainder, stipple

PLANT = smokehouse()


def drawn(shares=None, seed=7):
    return counted(tuple((shares or SHARES).items()), seed)


@cache
def counted(shares, seed):
    return stipple(PLANT, believed(PLANT, dict(shares)), seed)


def test_drawn_and_not_drawn_dots_are_exactly_a_thousand():
    sheet = drawn()
    assert len(sheet.dots) + sheet.not_drawn == 1000
    assert sheet.not_drawn == 40


@pytest.mark.parametrize("shares", [SHARES, {"S016": 1.0}, {"room:waste": 0.5, "S005": 0.5}])
def test_dots_never_touch_however_crowded(shares):
    sheet = drawn(shares)
    assert pdist(sheet.dots).min() >= sheet.spacing_m
    assert sheet.diameter_m <= 0.95 * sheet.spacing_m + 1e-4


def test_same_seed_gives_the_same_dots_and_another_seed_others():
    assert drawn() == stipple(PLANT, believed(PLANT), 7)
    assert not set(drawn().dots) & set(drawn(seed=8).dots)


def test_a_recount_that_moves_ten_shares_moves_few_dots():
    before = drawn()
    after = drawn(SHARES | {"S016": SHARES["S016"] - 0.01, "S034": SHARES["S034"] + 0.01})
    assert len(set(before.dots) - set(after.dots)) <= 25


def test_a_renamed_site_keeps_its_dots():
    site = PLANT.sites[15].model_copy(update={"code": "X-9", "name": "otherwise"})
    renamed = PLANT.model_copy(update={"sites": (*PLANT.sites[:15], site, *PLANT.sites[16:])})
    shares = {("X-9" if place == "S016" else place): share for place, share in SHARES.items()}
    assert stipple(renamed, believed(renamed, shares), 7).dots == drawn().dots


def test_a_place_with_room_keeps_all_its_dots_within_its_footprint():
    area = footprint(PLANT, "room:thaw").buffer(0.001)
    assert all(area.covers(Point(dot)) for dot in drawn({"room:thaw": 0.3, "line:line-a": 0.7}).dots)


def test_a_place_too_small_for_its_dots_is_listed_as_drawn_wider():
    sheet = drawn({"S016": 0.6, "S036": 0.01, "room:thaw": 0.39})
    assert "S016" in sheet.drawn_wider
    assert "room:thaw" not in sheet.drawn_wider


def test_every_dot_lies_on_the_floor_while_the_floor_has_room():
    inside = floor(PLANT).buffer(0.001)
    assert all(inside.covers(Point(dot)) for dot in drawn({"S020": 0.9, "S028": 0.1}).dots)


def test_dots_that_do_not_add_to_a_thousand_are_refused():
    short = believed(PLANT)[1:]
    with pytest.raises(SwabwrightError, match="must add to exactly 1,000"):
        stipple(PLANT, short, 7)


def test_a_belief_about_an_unknown_site_names_a_known_one():
    with pytest.raises(SwabwrightError, match="does not have; did you mean"):
        footprint(PLANT, "S0161")


@given(st.lists(st.floats(0.001, 1.0), min_size=1, max_size=60))
def test_largest_remainder_always_adds_up_and_never_misses_by_a_whole_dot(shares):
    counts = largest_remainder(shares)
    assert sum(counts) == 1000
    assert all(abs(count - 1000 * share / sum(shares)) < 1 for count, share in zip(counts, shares, strict=True))
