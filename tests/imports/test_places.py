"""Where sites stand: stated, drawn, or laid out."""

from math import dist

import pytest
from builders.drawings import two_rooms
from builders.imports import aside, imported, plant_of, said
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Point, Polygon, box

from swabwright.plant.imports.places import spread_inside

HEADER = ["Code", "Description", "Type", "Room", "Zone"]
DRAIN = ["S001", "x", "Floor drain", "Slicing", 3]


def _plant(tmp_path, drawing, *rows, header=HEADER):
    return plant_of(imported(tmp_path, drawing, {"Sites": [header, *rows]}))


@pytest.mark.parametrize("text", ["S001", "s001"])
def test_a_code_written_in_the_drawing_places_its_site(tmp_path, text):
    plant = _plant(tmp_path, two_rooms().text("SITES", (3.0, 5.0), text, 0.1), DRAIN)
    assert plant.sites[0].position == (3.0, 5.0)
    assert "sites[S001].position" not in plant.unconfirmed


def test_a_code_as_an_attribute_of_a_symbol_places_its_site(tmp_path):
    plant = _plant(tmp_path, two_rooms().symbol("SWAB POINTS", (3.0, 5.0), CODE="S001"), DRAIN)
    assert plant.sites[0].position == (3.0, 5.0)


def test_coordinates_in_the_list_place_a_site(tmp_path):
    plant = _plant(tmp_path, two_rooms(), [*DRAIN, 3.5, "450 cm"], header=[*HEADER, "X (m)", "Y (m)"])
    assert plant.sites[0].position == (3.5, 4.5)


def test_a_site_nobody_drew_is_laid_out_in_its_room_unconfirmed(tmp_path):
    plant = _plant(tmp_path, two_rooms(), DRAIN)
    assert Polygon(plant.rooms[0].outline).contains(Point(plant.sites[0].position))
    assert plant.unconfirmed["sites[S001].position"].startswith("not drawn; laid out in its room")


def test_a_site_of_a_machine_is_laid_out_on_the_machine(tmp_path):
    plant = _plant(
        tmp_path, two_rooms(), ["S001", "x", "Slicer blade", "Slicing", 1, "Slicer A"], header=[*HEADER, "Machine"]
    )
    assert Polygon(plant.equipment[0].outline).contains(Point(plant.sites[0].position))


def test_a_site_drawn_on_the_wall_is_moved_to_the_floors_edge(tmp_path):
    plant = _plant(tmp_path, two_rooms().text("SITES", (3.0, 6.2), "S001", 0.1), DRAIN)
    assert plant.sites[0].position == (3.0, 6.0)


def test_a_site_drawn_in_another_room_than_listed_is_refused_naming_both(tmp_path):
    drawing = two_rooms().text("SITES", (10.0, 3.0), "S001", 0.1)
    text = said(imported(tmp_path, drawing, {"Sites": [HEADER, DRAIN]}))
    assert "site S001: the list says room 'slicing', the drawing shows it in 'corridor' at (10.0, 3.0) m" in text


def test_a_code_drawn_twice_takes_the_first_and_says_so(tmp_path):
    drawing = two_rooms().text("SITES", (3.0, 5.0), "S001", 0.1).text("SITES", (4.0, 5.0), "S001", 0.1)
    outcome = imported(tmp_path, drawing, {"Sites": [HEADER, DRAIN]})
    assert plant_of(outcome).sites[0].position == (3.0, 5.0)
    assert outcome.assumptions["sites[S001].position"] == "its code stands twice in the drawing"


def test_a_code_in_the_drawing_that_no_list_has_is_put_aside(tmp_path):
    outcome = imported(tmp_path, two_rooms().text("SITES", (3.0, 5.0), "S999", 0.1))
    assert "'S999': no site of this code in the list" in aside(outcome)


def test_a_drain_site_belongs_to_the_pipe_run_it_lies_on(tmp_path):
    drawing = two_rooms().line("DRAINS", [(1.0, 1.0), (7.0, 1.0)]).text("SITES", (3.0, 1.2), "S001", 0.1)
    assert _plant(tmp_path, drawing, DRAIN).sites[0].drain == "drain-1"


@given(
    st.integers(min_value=1, max_value=80), st.floats(min_value=1, max_value=12), st.floats(min_value=1, max_value=9)
)
def test_laid_out_sites_lie_inside_apart_and_always_alike(number, width, depth):
    area = box(0, 0, width, depth)
    places = spread_inside(area, number, 0.8)
    assert len(places) == number
    assert all(area.covers(Point(place)) for place in places)
    assert len(set(places)) == number
    assert spread_inside(area, number, 0.8) == places


def test_sites_with_room_enough_stand_at_the_spacing_asked_for():
    places = spread_inside(box(0, 0, 10, 10), 12, 0.8)
    assert min(dist(a, b) for a in places for b in places if a != b) >= 0.79


def test_a_sliver_of_a_room_still_takes_its_sites():
    sliver = Polygon([(0, 0), (9, 0), (9, 0.2)])
    assert all(sliver.buffer(1e-3).covers(Point(place)) for place in spread_inside(sliver, 5, 0.8))


def test_no_site_needs_no_place():
    assert spread_inside(box(0, 0, 1, 1), 0, 0.8) == []


def test_codes_among_other_texts_place_their_sites_when_they_have_no_layer(tmp_path):
    outcome = imported(tmp_path, two_rooms().text("ROOM NAMES", (3.0, 5.5), "S001", 0.1), {"Sites": [HEADER, DRAIN]})
    assert plant_of(outcome).sites[0].position == (3.0, 5.5)
    assert "floor.dxf: no layer of site codes; 1 codes found among its texts" in outcome.guesses
