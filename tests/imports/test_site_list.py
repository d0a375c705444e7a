"""The site list: codes, zones, rooms, areas and notes of each site."""

import pytest
from builders.drawings import SITES, two_rooms
from builders.imports import aside, imported, plant_of, said

from swabwright.plant.imports.zones import read_zone

HEADER = ["Code", "Description", "Type", "Room", "Zone"]


def _outcome(tmp_path, *rows, header=HEADER, **mapping):
    return imported(tmp_path, book={"Sites": [header, *rows]}, **mapping)


def _site(tmp_path, *row, header=HEADER, **mapping):
    return plant_of(_outcome(tmp_path, row, header=header, **mapping)).sites[0]


def test_a_whole_row_becomes_a_site(tmp_path):
    site = plant_of(imported(tmp_path)).sites[1]
    assert (site.code, site.name, site.type, site.room) == ("S002", "Blade of slicer A", "slicer_blade", "slicing")
    assert (site.zone, site.area_cm2, site.equipment) == (1, pytest.approx(1200), "slicer-a")


def test_a_code_that_stands_twice_is_refused_naming_both_rows(tmp_path):
    outcome = imported(tmp_path, book={"Sites": [*SITES, ["S001", "Again", "Floor drain", "Slicing", 3, 5]]})
    assert outcome.plant is None
    assert "row 5: code 'S001' stands in row 2 too" in said(outcome)


@pytest.mark.parametrize("code", ["S 1", "12", "a.b_c/d-e"])
def test_codes_keep_their_own_spelling_but_for_blanks(tmp_path, code):
    assert _site(tmp_path, code, "x", "Floor drain", "Slicing", 3).code == code.replace(" ", "-")


@pytest.mark.parametrize(("code", "words"), [("#1", "cannot be a site code"), ("", "has no code")])
def test_a_code_that_cannot_stand_is_refused(tmp_path, code, words):
    assert words in said(_outcome(tmp_path, [code, "x", "Floor drain", "Slicing", 3]))


@pytest.mark.parametrize(
    ("text", "zone"),
    [("2", 2), ("Z2", 2), ("Zone 2", 2), ("zone-3", 3), ("Hygiene zone 1", 1), ("IV", 4), ("Zone II", 2)],
)
def test_zones_are_read_as_plants_write_them(text, zone):
    assert read_zone(text) == zone


@pytest.mark.parametrize("text", ["5", "0", "Zone A", "1-2", "far"])
def test_a_zone_that_is_none_is_refused(tmp_path, text):
    assert read_zone(text) is None
    assert f"zone '{text}' is none of 1, 2, 3, 4" in said(
        _outcome(tmp_path, ["S1", "x", "Floor drain", "Slicing", text])
    )


def test_a_site_without_zone_takes_the_usual_one_of_its_type_unconfirmed(tmp_path):
    plant = plant_of(_outcome(tmp_path, ["S1", "x", "Floor drain", "Slicing", ""]))
    assert plant.sites[0].zone == 3
    assert "the list names no zone; 3 is usual" in plant.unconfirmed["sites[S1].zone"]


def test_a_zone_3_type_in_a_room_without_open_food_is_zone_4(tmp_path):
    assert _site(tmp_path, "S1", "x", "Floor drain", "Corridor", "").zone == 4


def test_a_room_nobody_drew_is_refused_with_the_site_and_a_hint(tmp_path):
    text = said(_outcome(tmp_path, ["S1", "x", "Floor drain", "Slizzing", 3]))
    assert "row 2: site S1: no room 'Slizzing' in the drawing; did you mean 'Slicing'?" in text


def test_a_room_that_is_only_alike_is_taken_and_shown(tmp_path):
    outcome = _outcome(tmp_path, ["S1", "x", "Floor drain", "Slicing hall", 3])
    assert plant_of(outcome).sites[0].room == "slicing"
    assert "room 'Slicing hall' is taken for 'Slicing' (score 95)" in outcome.guesses


def test_the_mapping_can_say_which_room_is_meant(tmp_path):
    assert _site(tmp_path, "S1", "x", "Floor drain", "Hall 7", 3, rooms={"Hall 7": "Slicing"}).room == "slicing"


def test_a_site_without_room_takes_the_one_it_is_drawn_in(tmp_path):
    drawing = two_rooms().text("SITES", (9.5, 3.0), "S1", 0.1)
    rows = [HEADER, ["S1", "x", "Floor drain", "", 3]]
    plant = plant_of(imported(tmp_path, drawing, {"Sites": rows}))
    assert plant.sites[0].room == "corridor"
    assert "sites[S1].room" in plant.unconfirmed


def test_a_site_without_room_and_without_place_is_refused(tmp_path):
    assert "site S1 names no room and stands in none" in said(_outcome(tmp_path, ["S1", "x", "Floor drain", "", 3]))


@pytest.mark.parametrize(
    ("text", "words"),
    [("large", "'large' is no number with a unit"), ("-3 cm2", "an area of -3 cm² is none"), ("0", "an area of 0 cm²")],
)
def test_an_area_that_is_none_is_refused(tmp_path, text, words):
    outcome = _outcome(tmp_path, ["S1", "x", "Floor drain", "Slicing", text], header=[*HEADER[:4], "Area (cm2)"])
    assert outcome.plant is None
    assert words in said(outcome)


def test_an_area_without_unit_is_taken_in_square_centimetres_unconfirmed(tmp_path):
    plant = plant_of(
        _outcome(tmp_path, ["S1", "x", "Floor drain", "Slicing", 250], header=[*HEADER[:4], "Surface area"])
    )
    assert plant.sites[0].area_cm2 == 250
    assert "no unit written; read as cm²" in plant.unconfirmed["sites[S1].area_cm2"]


def test_surface_height_spot_and_note_are_taken_over(tmp_path):
    header = [*HEADER[:4], "Material", "Height", "Crack", "Remarks"]
    site = _site(tmp_path, "S1", "x", "Floor drain", "Slicing", "epoxy", "1,2 m", "north seam", "wet", header=header)
    assert (site.surface, site.height_m, site.spot, site.note) == ("resin", 1.2, "north seam", "wet")


def test_a_surface_nobody_knows_is_put_aside_and_unconfirmed(tmp_path):
    header = [*HEADER[:4], "Material"]
    outcome = _outcome(tmp_path, ["S1", "x", "Floor drain", "Slicing", "moon rock"], header=header)
    assert "moon rock" in aside(outcome)
    assert plant_of(outcome).sites[0].surface is None


def test_a_machine_nobody_drew_is_put_aside_and_the_site_stays(tmp_path):
    header = [*HEADER[:4], "Machine"]
    outcome = _outcome(tmp_path, ["S1", "x", "Slicer blade", "Slicing", "Grinder 9"], header=header)
    assert plant_of(outcome).sites[0].equipment is None
    assert "'Grinder 9': no equipment of this name" in aside(outcome)


def test_a_machine_named_in_the_sites_own_name_is_taken_unconfirmed(tmp_path):
    plant = plant_of(imported(tmp_path))
    assert plant.unconfirmed["sites[S002].equipment"] == "'Slicer A' stands in the site's own name"


def test_sites_the_mapping_leaves_out_are_listed(tmp_path):
    outcome = imported(tmp_path, leave_out=["S001"])
    assert [site.code for site in plant_of(outcome).sites] == ["S002", "S003"]
    assert "'S001': the mapping leaves this site out" in aside(outcome)


def test_a_list_of_which_no_site_is_left_is_refused(tmp_path):
    assert "no site is left" in said(imported(tmp_path, leave_out=["S001", "S002", "S003"]))


@pytest.mark.parametrize(("text", "wetness"), [("wet", "wet"), ("Dry", "dry"), ("moist", "damp"), ("", None)])
def test_the_wetness_of_a_site_is_taken_from_its_row(tmp_path, text, wetness):
    header = [*HEADER[:4], "Wet or dry"]
    assert _site(tmp_path, "S1", "x", "Floor drain", "Slicing", text, header=header).wetness == wetness


def test_a_wetness_that_is_none_is_refused(tmp_path):
    header = [*HEADER[:4], "Wetness"]
    text = said(_outcome(tmp_path, ["S1", "x", "Floor drain", "Slicing", "gloopy"], header=header))
    assert "wetness: 'gloopy' is none of wet, damp, dry" in text
