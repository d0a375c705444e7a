"""The walk as a whole: in order, in time, through doors, with its controls."""

from datetime import timedelta

import pytest
from builders.floors import plant as plant_of
from builders.floors import rectangle, room
from builders.walks import START, breaks_the_order, site_of, stops_at, visit, walkable_plant
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.planning.walk import WalkPlanner, walk_of
from swabwright.planning.walk_controls import Shares
from swabwright.plant.registry import load_figures
from swabwright.plant.space import FloorSpace

LAW = settings(deadline=None, derandomize=True, max_examples=25)
FIGURES = load_figures()
WALKS = st.builds(walkable_plant, st.integers(2, 30), st.integers(0, 99))


def walked(drawn, shares=None, **visiting):
    space = FloorSpace(drawn)
    given_shares = (shares,) if shares else ()
    return space, *walk_of(stops_at(drawn), space, FIGURES, visit(**visiting), *given_shares)


@LAW
@given(WALKS)
def test_nothing_clean_is_walked_to_after_something_dirty(drawn):
    _, timed, _ = walked(drawn)
    assert breaks_the_order([one.stop.key for one in timed]) is None


@LAW
@given(WALKS)
def test_no_leg_goes_through_a_wall(drawn):
    space, _, walk = walked(drawn)
    assert all(space.stays_on_floor(leg.path) for leg in walk.legs)


@LAW
@given(WALKS)
def test_legs_join_and_add_up_to_the_walk(drawn):
    _, timed, walk = walked(drawn)
    assert [leg.from_order for leg in walk.legs] == list(range(len(timed)))
    assert sum(leg.metres for leg in walk.legs) == pytest.approx(walk.metres, abs=0.01 * len(timed))
    assert all(a.path[-1] == b.path[0] for a, b in zip(walk.legs, walk.legs[1:], strict=False))


@LAW
@given(WALKS)
def test_a_stop_is_reached_only_after_the_one_before_it_is_done(drawn):
    _, timed, walk = walked(drawn)
    done = [one.arrive_at + timedelta(minutes=one.stop.minutes) for one in timed]
    pairs = zip(done, timed[1:], strict=False)
    assert all(after.arrive_at >= before - timedelta(seconds=1) for before, after in pairs)
    assert walk.ends_at == pytest.approx(done[-1], abs=timedelta(seconds=1))


@LAW
@given(WALKS)
def test_the_quick_estimate_is_never_shorter_than_the_walk_without_waits(drawn):
    planner = WalkPlanner(FloorSpace(drawn), FIGURES, visit())
    stops = stops_at(drawn)
    assert planner.minutes(stops) >= planner.walk(stops)[1].minutes - 0.01


def test_one_room_takes_its_gowning_set_up_way_and_samples():
    # base (1, 1), sites at (1, 5) and (1, 9): 4 + 4 m at 40 m/min, 8 min gowning, 3 min set-up, 2 x 6 min
    sites = [site_of("A", "hall", (1.0, 5.0), "door_handle"), site_of("B", "hall", (1.0, 9.0), "door_handle")]
    drawn = plant_of((room("hall", rectangle(0.0, 0.0, 10.0, 10.0)),), sites=sites)
    _, timed, walk = walked(drawn)
    assert [one.stop.code for one in timed] == ["A", "B"]
    assert walk.minutes == pytest.approx(8 + 3 + 8 / 40 + 12)
    assert timed[0].arrive_at == START + timedelta(minutes=11.1)


def test_the_next_room_costs_gloves_sleeves_and_a_new_set_up():
    drawn = walkable_plant(2, 1, columns=2, rows=1)
    _, timed, walk = walked(drawn)
    walking_and_one_door = walk.metres / 40 + 0.3
    assert timed[1].change_first == ("gloves and sleeves",)
    assert walk.minutes == pytest.approx(8 + 3 + 1.5 + 3 + 12 + walking_and_one_door, abs=0.01)


def test_a_rising_class_asks_for_a_full_change():
    drawn = walkable_plant(2, 1, columns=1, rows=2)
    _, timed, _ = walked(drawn)
    assert [one.change_first for one in timed] == [("gown, gloves and boots",)] * 2


def test_a_change_at_a_door_is_not_done_twice_when_the_class_rises_there():
    drawn = walkable_plant(2, 1, columns=1, rows=2)
    barrier = tuple(door.model_copy(update={"barrier": "full_change"}) for door in drawn.doors)
    _plain, _, walk = walked(drawn)
    _guarded, _, behind = walked(drawn.model_copy(update={"doors": barrier}))
    assert behind.minutes == pytest.approx(walk.minutes)
    assert behind.legs[1].barriers == ("r0c0-up: gown, gloves and boots",)
    assert walk.legs[1].barriers == ()


def test_a_cleaner_room_is_walked_around_when_the_way_is_not_too_long():
    # from r1c0 to r1c1 straight through their door is allowed; with that door gone the way leads through class 1
    drawn = walkable_plant(4, 1, columns=2, rows=2)
    gone = tuple(door for door in drawn.doors if door.id != "r1c0-right")
    _, _, straight = walked(drawn)
    _, _, around = walked(drawn.model_copy(update={"doors": gone}))
    full_change = FIGURES.number("rule.minutes_full_change")
    assert around.minutes >= straight.minutes + full_change


def test_a_site_nobody_can_walk_to_is_refused_with_the_missing_door():
    drawn = walkable_plant(4, 1, columns=2, rows=1, doors=())
    with pytest.raises(SwabwrightError, match="a door is missing between 'r0c1'"):
        walked(drawn)


@LAW
@given(WALKS, st.integers(1, 4), st.integers(0, 3))
def test_blanks_open_and_close_the_day_and_duplicates_follow_their_sample(drawn, blanks, duplicates):
    shares = Shares(surface=0, blanks=blanks, duplicates=duplicates, judgement=0)
    _, timed, _ = walked(drawn, shares)
    kinds = [one.stop.kind for one in timed]
    assert kinds.count("blank") == blanks
    assert kinds[0] == "blank"
    assert blanks == 1 or kinds[-1] == "blank"
    assert all(
        timed[n - 1].stop.code == one.stop.code and timed[n - 1].stop.kind == "surface"
        for n, one in enumerate(timed)
        if one.stop.kind == "duplicate"
    )
