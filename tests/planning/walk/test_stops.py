"""Stops of the walk and the controls among them."""

import itertools
from dataclasses import replace

import pytest
from builders.floors import plant, rectangle, room
from builders.walks import item_at, site_of, stops_at
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.planning.walk_controls import Shares, with_controls
from swabwright.planning.walk_stops import DRAINS, EXPOSED_ROOMS, OTHER_ROOMS, StopMaker, control_at
from swabwright.plant.registry import load_catalogue

LAW = settings(deadline=None, derandomize=True, max_examples=60)
CATALOGUE = load_catalogue()


def hall_of(*kinds, exposed=True, **of_sites):
    hall = room("hall", rectangle(0.0, 0.0, 30.0, 8.0), 3, exposed_product=exposed)
    return plant(
        (hall,), sites=[site_of(f"S{n}", "hall", (1.0 + n, 4.0), kind, **of_sites) for n, kind in enumerate(kinds)]
    )


def stop_of(kind, mode="as_is", exposed=True, **of_site):
    return stops_at(hall_of(kind, exposed=exposed, **of_site), mode)[0]


def shares(blanks=0, duplicates=0):
    return Shares(surface=0, blanks=blanks, duplicates=duplicates, judgement=0)


@pytest.mark.parametrize(
    ("kind", "exposed", "expected"),
    [
        ("belt_product_side", True, EXPOSED_ROOMS),
        ("belt_product_side", False, OTHER_ROOMS),
        ("drain_cover", True, DRAINS),
        ("drain_channel", False, DRAINS),
    ],
)
def test_the_pass_follows_from_room_and_holder(kind, exposed, expected):
    assert stop_of(kind, exposed=exposed).key.pass_number == expected


def test_a_site_drawn_on_a_drain_belongs_to_the_drains_whatever_its_type():
    assert stop_of("cracked_floor").key.pass_number == EXPOSED_ROOMS
    assert stop_of("cracked_floor", drain="drain-1").key.pass_number == DRAINS


def test_class_room_and_rank_come_from_room_and_catalogue():
    key = stop_of("cracked_floor").key
    assert (key.hygiene_class, key.room) == (3, "hall")
    assert key.rank == CATALOGUE.site_types["cracked_floor"].rank


def test_opened_and_as_is_ask_for_different_halts():
    opened, as_is = stop_of("hollow_roller", "opened"), stop_of("hollow_roller")
    assert opened.halt == CATALOGUE.site_types["hollow_roller"].stop
    assert as_is.halt == CATALOGUE.site_types["hollow_roller"].stop_as_is


def test_an_item_of_another_plant_is_refused():
    drawn = hall_of("door_handle")
    stranger = replace(item_at(drawn.sites[0]), site_code="X9")
    with pytest.raises(SwabwrightError, match="'X9', which the plant document does not hold"):
        StopMaker(drawn, CATALOGUE).surface(stranger)


def test_a_blank_asks_for_nothing_to_stand_and_stands_where_its_sample_stands():
    sample = stop_of("slicer_blade", "opened")
    blank = control_at(sample, "blank", 5.0)
    assert sample.halt.needs_isolation
    assert not blank.halt.needs_isolation
    assert (blank.key, blank.minutes, blank.gain) == (sample.key, 5.0, 0.0)


def test_a_duplicate_keeps_mode_and_halt_of_its_sample():
    sample = stop_of("slicer_blade", "opened")
    twin = control_at(sample, "duplicate", 5.0)
    assert (twin.mode, twin.halt) == ("opened", sample.halt)


@LAW
@given(st.integers(1, 12), st.integers(0, 5), st.integers(0, 4))
def test_controls_leave_the_samples_and_their_order_alone(sites, blanks, duplicates):
    stops = stops_at(hall_of(*["door_handle"] * sites))
    series = with_controls(stops, shares(blanks, duplicates), lambda device: 5.0)
    assert [stop for stop in series if stop.kind == "surface"] == stops
    assert len(series) == sites + blanks + min(duplicates, sites)


@LAW
@given(st.integers(4, 30), st.integers(2, 4))
def test_blanks_are_spread_evenly_over_the_day(sites, blanks):
    series = with_controls(stops_at(hall_of(*["door_handle"] * sites)), shares(blanks), lambda device: 5.0)
    places = [n for n, stop in enumerate(series) if stop.kind == "blank"]
    gaps = [b - a for a, b in itertools.pairwise(places)]
    assert (places[0], places[-1]) == (0, len(series) - 1)
    assert max(gaps) - min(gaps) <= 2


def test_a_single_blank_opens_the_day():
    series = with_controls(stops_at(hall_of("door_handle", "cart_wheel")), shares(1), lambda device: 5.0)
    assert [stop.kind for stop in series] == ["blank", "surface", "surface"]


def test_a_duplicate_goes_to_the_easy_site_of_most_gain():
    # the slicer, of most gain, needs isolation; the bolt has no room for a second area; the floor has both
    stops = stops_at(hall_of("slicer_blade", "bolt_thread", "floor_under_equipment", "cart_wheel"))
    series = with_controls(stops, shares(duplicates=1), lambda device: 5.0)
    assert next(stop.at.type.id for stop in series if stop.kind == "duplicate") == "floor_under_equipment"


def test_a_duplicate_where_nothing_is_easy_goes_to_the_site_of_most_gain():
    stops = stops_at(hall_of("bolt_thread", "bolt_thread"))
    series = with_controls(stops, shares(duplicates=1), lambda device: 5.0)
    assert [stop.kind for stop in series] == ["surface", "duplicate", "surface"]


def test_controls_take_the_minutes_of_their_device():
    series = with_controls(stops_at(hall_of("door_handle")), shares(1, 1), {"SP": 7.0}.__getitem__)
    assert [stop.minutes for stop in series if stop.kind != "surface"] == [7.0, 7.0]
