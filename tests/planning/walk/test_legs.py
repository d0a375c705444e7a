"""Legs and changes in minutes: doors, barriers, cleaner rooms, classes."""

import numpy as np
import pytest
from builders.floors import door, plant, rectangle, room
from builders.walks import site_of, stops_at

from swabwright.errors import SwabwrightError
from swabwright.planning.clock import Clock, change_minutes
from swabwright.planning.clock_order import meet_windows
from swabwright.planning.clock_windows import Window
from swabwright.planning.clock_words import changes_before
from swabwright.planning.walk_legs import AT_BASE, Legs, Way
from swabwright.plant.registry import load_figures
from swabwright.plant.space import FloorSpace

FIGURES = load_figures()
SPEED, A_DOOR = FIGURES.number("rule.walking_speed_m_per_min"), FIGURES.number("rule.minutes_door")
FULL, BOOTS = FIGURES.number("rule.minutes_full_change"), FIGURES.number("rule.minutes_boots_change")
GLOVES, SET_UP = FIGURES.number("rule.minutes_glove_and_sleeve_change"), FIGURES.number("rule.minutes_room_set_up")


def row_of_rooms(*classes, barriers=None, kinds=None):
    """Rooms of 4 x 4 m in a row, 0.2 m apart, a door between neighbours, one site in the middle of each."""
    rooms = [room(f"r{n}", rectangle(4.2 * n, 0.0, 4.2 * n + 4.0, 4.0), c) for n, c in enumerate(classes)]
    asked = barriers or ["none"] * (len(classes) - 1)
    doors = [door(f"d{n}", f"r{n}", f"r{n + 1}", (4.2 * n + 4.1, 2.0), barrier=b) for n, b in enumerate(asked)]
    types = kinds or ["door_handle"] * len(classes)
    sites = [site_of(f"S{n}", f"r{n}", (4.2 * n + 2.0, 2.0), kind) for n, kind in enumerate(types)]
    return plant(rooms, doors, sites, base=(1.0, 2.0))


def minutes_between(drawn, start, end, came_from=None):
    sites = drawn.sites
    spots = [(sites[n].position, sites[n].room) for n in (start, end)]
    classes = {one.id: one.hygiene_class for one in drawn.rooms}
    came = classes[sites[start].room] if came_from is None else came_from
    return Legs(FloorSpace(drawn), FIGURES).minutes(spots, [came, came])[0, 1]


def test_a_leg_takes_its_metres_and_a_moment_for_each_door():
    assert minutes_between(row_of_rooms(1, 1, 1), 0, 2) == pytest.approx(8.4 / SPEED + 2 * A_DOOR)


@pytest.mark.parametrize(("barrier", "change"), [("boots", BOOTS), ("full_change", FULL)])
def test_a_barrier_adds_the_minutes_of_its_change(barrier, change):
    drawn = row_of_rooms(1, 1, barriers=[barrier])
    assert minutes_between(drawn, 0, 1) == pytest.approx(4.2 / SPEED + A_DOOR + change)


def test_a_way_back_through_a_cleaner_room_costs_one_full_change():
    drawn = row_of_rooms(2, 1, 2)
    assert minutes_between(drawn, 0, 2) == pytest.approx(8.4 / SPEED + 2 * A_DOOR + FULL)


def test_a_way_on_into_dirtier_rooms_costs_no_change_by_itself():
    drawn = row_of_rooms(1, 2, 3)
    assert minutes_between(drawn, 0, 2) == pytest.approx(8.4 / SPEED + 2 * A_DOOR)


def test_from_the_base_no_room_is_cleaner():
    drawn = row_of_rooms(2, 1, 2)
    assert minutes_between(drawn, 0, 2, came_from=AT_BASE) == pytest.approx(8.4 / SPEED + 2 * A_DOOR)


def test_a_base_in_no_room_is_refused():
    with pytest.raises(SwabwrightError, match="clean base"):
        Legs(FloorSpace(row_of_rooms(1, 1).model_copy(update={"base": (-9.0, 1.0)})), FIGURES)


def test_the_way_of_a_leg_names_its_doors():
    drawn = row_of_rooms(1, 1, 1)
    legs = Legs(FloorSpace(drawn), FIGURES)
    way = legs.way(legs.base, (drawn.sites[2].position, "r2"), AT_BASE)
    assert [one.id for one in way.doors] == ["d0", "d1"]
    assert way.metres == pytest.approx(9.4)


def test_changes_are_counted_between_visits_and_classes():
    changes = change_minutes(stops_at(row_of_rooms(1, 1, 2)), FIGURES)
    assert changes[0, 1] == FULL + SET_UP
    assert changes[1, 2] == GLOVES + SET_UP
    assert changes[2, 3] == FULL + SET_UP
    assert changes[1, 1] == 0.0


def test_the_drains_of_a_room_are_a_visit_of_their_own():
    sites = [site_of("A", "r", (1.0, 1.0), "door_handle"), site_of("B", "r", (2.0, 1.0), "drain_cover")]
    stops = stops_at(plant((room("r", rectangle(0.0, 0.0, 4.0, 4.0)),), sites=sites))
    assert change_minutes(stops, FIGURES)[1, 2] == GLOVES + SET_UP


@pytest.mark.parametrize(
    ("classes", "barrier", "words"),
    [
        ((1, 1), "none", ("gloves and sleeves",)),
        ((1, 1), "boots", ("gloves and sleeves", "boots and gloves")),
        ((1, 1), "full_change", ("gown, gloves and boots",)),
        ((1, 2), "none", ("gown, gloves and boots",)),
        ((1, 2), "boots", ("gown, gloves and boots",)),
    ],
)
def test_changes_are_said_in_words(classes, barrier, words):
    drawn = row_of_rooms(*classes, barriers=[barrier])
    before, after = stops_at(drawn)
    assert changes_before(before, after, Way((), 0.0, drawn.doors)) == words


def test_nothing_is_changed_within_a_visit():
    sites = [site_of(code, "r", (1.0, 1.0), "door_handle") for code in ("A", "B")]
    before, after = stops_at(plant((room("r", rectangle(0.0, 0.0, 4.0, 4.0)),), sites=sites))
    assert changes_before(before, after, Way((), 0.0, ())) == ()


def bench_clock(windows, minutes=6.0):
    """A clock of stops in one place: no way, no change."""
    stops = stops_at(row_of_rooms(*[1] * len(windows)), minutes=minutes)
    nothing = np.zeros((len(windows) + 1, len(windows) + 1))
    return Clock(stops, nothing, nothing, windows)


def test_the_clock_adds_up_minutes():
    assert bench_clock([None, None]).ends([0, 1]) == 12.0


def test_the_clock_waits_for_a_window_to_open():
    timed = bench_clock([None, (Window(30.0, 50.0),)]).timed([0, 1])
    assert (timed[1].arrives, timed[1].waits) == (30.0, 24.0)


def test_the_clock_takes_the_first_window_that_is_long_enough():
    clock = bench_clock([(Window(0.0, 5.0), Window(20.0, 26.0), Window(40.0, 90.0))])
    assert clock.timed([0])[0].arrives == 20.0


def test_a_stop_after_its_last_window_is_passed_by_and_the_others_go_on():
    clock = bench_clock([None, (Window(0.0, 6.0),), None])
    assert clock.ends([0, 1, 2]) == float("inf")
    assert clock.score([0, 1, 2]) == (1, 12.0)


def test_the_score_and_the_timetable_agree():
    clock = bench_clock([None, (Window(8.0, 20.0), Window(40.0, 60.0)), (Window(0.0, 7.0),)])
    for order in ([0, 1, 2], [2, 0, 1], [1, 0, 2]):
        late = [one for one in clock.timed(order) if one.arrives == float("inf")]
        assert (clock.ends(order) == float("inf")) == bool(late)


def test_a_credit_brings_what_follows_forward():
    assert bench_clock([None, None]).timed([0, 1], [0.0, 2.0])[1].arrives == 4.0


def test_an_order_without_waits_is_left_alone():
    stops = stops_at(row_of_rooms(1, 1))
    assert meet_windows([1, 0], [stop.key for stop in stops], bench_clock([None, None])) == [1, 0]


def test_rooms_of_one_pass_change_places_for_a_window():
    stops = stops_at(row_of_rooms(1, 1, 1))
    clock = bench_clock([(Window(12.0, 18.0),), None, None])
    order = meet_windows([0, 1, 2], [stop.key for stop in stops], clock)
    assert order[-1] == 0
    assert clock.ends(order) == 18.0


def test_classes_never_change_places_for_a_window():
    stops = stops_at(row_of_rooms(1, 2))
    clock = bench_clock([(Window(12.0, 18.0),), None])
    assert meet_windows([0, 1], [stop.key for stop in stops], clock) == [0, 1]
