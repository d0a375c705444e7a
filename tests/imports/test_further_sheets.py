"""Cleanings, workstations and routes: from their sheets, or as listed defaults."""

from datetime import time

import pytest
from builders.drawings import two_rooms
from builders.imports import aside, imported, plant_of, said

CLEANING = ["Cleaning", "Type", "Rooms", "Days", "From", "To", "Disinfectant", "Strength", "Rinsed"]
DAILY = ["Daily clean", "full", "all", "Mon-Fri", "16:00", "19:00", "Quat", "200 ppm", "yes"]


def _cleaning(tmp_path, **changes):
    row = [changes.get(header, value) for header, value in zip(CLEANING, DAILY, strict=True)]
    return plant_of(imported(tmp_path, book={"Cleaning plan": [CLEANING, row]}))


def test_a_cleaning_is_read_whole_and_confirmed(tmp_path):
    plant = _cleaning(tmp_path)
    (cleaning,) = plant.cleanings
    assert (cleaning.kind, cleaning.chemistry, cleaning.strength_ppm) == ("full", "quat_normal", 200)
    assert (cleaning.rooms, cleaning.when[0].starts_at, cleaning.rinsed) == (("slicing", "corridor"), time(16), True)
    assert [path for path in plant.unconfirmed if path.startswith("cleanings")] == []


@pytest.mark.parametrize(
    ("words", "chemistry"),
    [
        ("peracetic acid", "paa"),
        ("PAA", "paa"),
        ("Sodium hypochlorite", "chlorine"),
        ("quaternary ammonium", "quat_normal"),
        ("floor quat", "quat_floor"),
        ("iodophor", "iodophor"),
        ("none", "none"),
        ("steam", "steam"),
    ],
)
def test_disinfectants_are_known_by_their_usual_names(tmp_path, words, chemistry):
    assert _cleaning(tmp_path, Disinfectant=words).cleanings[0].chemistry == chemistry


def test_a_disinfectant_nobody_knows_leaves_an_unknown_residue_unconfirmed(tmp_path):
    plant = _cleaning(tmp_path, Disinfectant="Sparkle 9")
    assert plant.cleanings[0].chemistry == "unknown"
    assert "'Sparkle 9' is no known disinfectant" in plant.unconfirmed["cleanings[daily-clean].chemistry"]


@pytest.mark.parametrize(("strength", "ppm"), [("0,02 %", 200), ("150 mg/l", 150), (80, 80), ("", None)])
def test_strengths_are_read_in_parts_per_million(tmp_path, strength, ppm):
    assert _cleaning(tmp_path, Strength=strength).cleanings[0].strength_ppm == (ppm and pytest.approx(ppm))


@pytest.mark.parametrize(("kind", "meant"), [("rinse", "rinse"), ("Dry clean", "dry"), ("deep", "full")])
def test_kinds_of_cleaning_are_told_apart(tmp_path, kind, meant):
    assert _cleaning(tmp_path, Type=kind).cleanings[0].kind == meant


def test_cleaned_rooms_are_those_named_and_others_are_put_aside(tmp_path):
    row = [*DAILY[:2], "Slicing; Bakery", *DAILY[3:]]
    outcome = imported(tmp_path, book={"Cleaning plan": [CLEANING, row]})
    assert plant_of(outcome).cleanings[0].rooms == ("slicing",)
    assert "'Bakery': nothing of this name is drawn or listed" in aside(outcome)


@pytest.mark.parametrize(
    ("header", "path"), [("Rooms", "rooms"), ("From", "when"), ("Rinsed", "rinsed"), ("Days", "when")]
)
def test_what_a_cleaning_does_not_say_is_a_listed_default(tmp_path, header, path):
    assert f"cleanings[daily-clean].{path}" in _cleaning(tmp_path, **{header: ""}).unconfirmed


def test_without_a_sheet_one_full_cleaning_of_everything_is_assumed(tmp_path):
    plant = plant_of(imported(tmp_path))
    (cleaning,) = plant.cleanings
    assert (cleaning.kind, cleaning.chemistry, cleaning.rooms) == ("full", "unknown", ("slicing", "corridor"))
    assert plant.unconfirmed["cleanings"].startswith("no sheet of cleaning")


STATIONS = ["Station", "Sites touched"]


def test_a_workstation_lists_its_sites_with_their_weights(tmp_path):
    outcome = imported(tmp_path, book={"Work stations": [STATIONS, ["Feeding", "S001, s002 (3)"]]})
    (station,) = plant_of(outcome).workstations
    assert [(touch.site, touch.weight) for touch in station.touches] == [("S001", 1.0), ("S002", 3.0)]
    assert (station.room, "workstations" in outcome.assumptions) == ("slicing", False)


@pytest.mark.parametrize("touches", ["S001", "S001, S001", "S001, S777"])
def test_a_workstation_that_touches_one_site_only_is_put_aside(tmp_path, touches):
    outcome = imported(tmp_path, book={"Work stations": [STATIONS, ["Feeding", touches]]})
    assert plant_of(outcome).workstations == ()
    assert "'Feeding': touches fewer than two sites" in aside(outcome)


def test_a_touched_site_that_is_not_listed_is_put_aside(tmp_path):
    outcome = imported(tmp_path, book={"Work stations": [STATIONS, ["Feeding", "S001, S002, S777"]]})
    assert "'S777': no site of this code in the list" in aside(outcome)


def test_without_a_sheet_hands_carry_nothing_and_that_is_listed(tmp_path):
    assert "hands then carry nothing" in plant_of(imported(tmp_path)).unconfirmed["workstations"]


def _routes():
    drawing = two_rooms().line("TROLLEY", [(2.0, 4.0), (8.1, 2.6), (10.0, 4.0)])
    return drawing.text("TROLLEY", (2.1, 4.1), "Rack way", 0.1).line("PEOPLE", [(2.0, 5.0), (8.1, 2.6), (10.0, 5.0)])


def test_routes_are_drawn_with_their_kind_by_layer(tmp_path):
    plant = plant_of(imported(tmp_path, _routes()))
    assert {route.name: route.kind for route in plant.routes} == {"People route 1": "people", "Rack way": "trolley"}
    assert plant.unconfirmed["routes[rack-way].trips_per_hour"].startswith("no sheet of routes says it")


def test_the_sheet_of_routes_gives_trips_an_hour(tmp_path):
    rows = [["Route", "Trips per hour"], ["Rack way", 9], ["Ghost way", 2]]
    outcome = imported(tmp_path, _routes(), {"Routes": rows})
    trips = {route.id: route.trips_per_hour for route in plant_of(outcome).routes}
    assert trips["rack-way"] == 9
    assert "'Ghost way': no route of this name is drawn" in aside(outcome)


def test_a_route_listed_twice_takes_the_first_row_and_says_so(tmp_path):
    rows = [["Route", "Trips per hour"], ["Rack way", 9], ["Rack way", 2]]
    outcome = imported(tmp_path, _routes(), {"Routes": rows})
    assert "'Rack way': stands in the sheet before; the first is taken" in aside(outcome)
    assert {route.trips_per_hour for route in plant_of(outcome).routes if route.id == "rack-way"} == {9}


def test_a_route_of_another_kind_than_its_layer_keeps_the_layers_and_says_so(tmp_path):
    rows = [["Route", "Kind", "Trips per hour"], ["Rack way", "forklift", 9]]
    outcome = imported(tmp_path, _routes(), {"Routes": rows})
    assert "the layer it is drawn on says trolley, which is taken" in aside(outcome)


def test_without_routes_that_is_listed(tmp_path):
    assert "none is drawn" in plant_of(imported(tmp_path)).unconfirmed["routes"]


def test_a_sheet_that_is_nothing_known_is_put_aside(tmp_path):
    outcome = imported(tmp_path, book={"Birthdays": [["Who", "When"], ["Kim", "May"]]})
    assert "sheet 'Birthdays': holds no table that is known" in aside(outcome)


def test_every_default_of_a_bare_plant_stands_in_the_document(tmp_path):
    outcome = imported(tmp_path)
    assert plant_of(outcome).unconfirmed == outcome.assumptions
    assert said(outcome) == ""
    assert {"name", "timezone", "base", "lines", "cleanings", "routes", "workstations"} <= set(outcome.assumptions)
