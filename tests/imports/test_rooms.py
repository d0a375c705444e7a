"""Rooms: outlines, names, class and climate."""

import math

import pytest
from builders.drawings import CORRIDOR, SLICING, Sheet, two_rooms
from builders.imports import aside, imported, plant_of, said
from shapely.geometry import Polygon

SITES = {"Sites": [["Code", "Description", "Type", "Room"], ["S001", "x", "Floor drain", "Slicing"]]}


def _one_room(draw):
    return draw(Sheet("R2010", "m")).text("TEXT", (1.0, 5.0), "Slicing")


def _area(outcome):
    return Polygon(plant_of(outcome).rooms[0].outline).area


def test_a_polyline_whose_last_point_repeats_the_first_is_closed(tmp_path):
    drawing = _one_room(lambda sheet: sheet.line("ROOMS", [*SLICING, SLICING[0]]))
    outcome = imported(tmp_path, drawing, SITES)
    assert _area(outcome) == pytest.approx(48)
    assert len(plant_of(outcome).rooms[0].outline) == 4


def test_ends_a_few_centimetres_apart_are_closed(tmp_path):
    drawing = _one_room(lambda sheet: sheet.line("ROOMS", [*SLICING, (0.0, 0.03)]))
    assert _area(imported(tmp_path, drawing, SITES)) == pytest.approx(48, rel=0.01)


def test_four_lines_that_meet_make_a_room(tmp_path):
    def draw(sheet):
        for start, end in zip(SLICING, [*SLICING[1:], SLICING[0]], strict=True):
            sheet.line("ROOMS", [start, end])
        return sheet

    assert _area(imported(tmp_path, _one_room(draw), SITES)) == pytest.approx(48)


def test_a_bulge_in_a_polyline_becomes_a_round_wall(tmp_path):
    def draw(sheet):
        points = [(0, 0), (8, 0, 0, 0, 1.0), (8, 6), (0, 6)]
        sheet.space.add_lwpolyline(points, format="xyseb", close=True, dxfattribs={"layer": "ROOMS"})
        return sheet

    half_circle = math.pi * 3**2 / 2
    assert _area(imported(tmp_path, _one_room(draw), SITES)) == pytest.approx(48 + half_circle, rel=0.005)


def test_rooms_inside_a_block_are_found(tmp_path):
    drawing = Sheet("R2010", "m")
    block = drawing.document.blocks.new("FLOOR")
    block.add_lwpolyline(SLICING, close=True, dxfattribs={"layer": "ROOMS"})
    block.add_text("Slicing", dxfattribs={"layer": "TEXT", "height": 0.3}).set_placement((1, 5))
    drawing.space.add_blockref("FLOOR", (0, 0))
    assert plant_of(imported(tmp_path, drawing, SITES)).rooms[0].name == "Slicing"


def test_an_outline_that_does_not_close_is_refused_with_the_gap(tmp_path):
    drawing = two_rooms().line("ROOMS", [(20.0, 0.0), (25.0, 0.0), (25.0, 5.0), (20.0, 5.0), (20.0, 1.5)])
    text = said(imported(tmp_path, drawing))
    assert "floor.dxf, layer ROOMS: the room outline from (20.0, 0.0) m to (20.0, 1.5) m is not closed" in text
    assert "its ends are 1.50 m apart" in text


@pytest.mark.parametrize("points", [[(20, 0), (26, 5), (26, 0), (20, 5)], [(20, 0), (26, 0), (21, 5), (25, -2)]])
def test_an_outline_that_crosses_itself_is_refused_with_the_place(tmp_path, points):
    text = said(imported(tmp_path, two_rooms().outline("ROOMS", points)))
    assert "the room outline crosses itself near (2" in text


def test_an_outline_without_area_is_put_aside(tmp_path):
    outcome = imported(tmp_path, two_rooms().outline("ROOMS", [(20, 0), (20.01, 0), (20, 0.01)]))
    assert "a room outline without any area" in aside(outcome)
    assert len(plant_of(outcome).rooms) == 2


def test_rooms_drawn_over_one_another_are_refused(tmp_path):
    drawing = two_rooms().outline("ROOMS", [(4.0, 3.0), (9.5, 3.0), (9.5, 9.0), (4.0, 9.0)])
    assert "lies over" in said(imported(tmp_path, drawing))


def test_the_largest_text_names_the_room_and_figures_do_not(tmp_path):
    drawing = two_rooms().text("TEXT", (4.0, 5.0), "48.0 m2", 0.9).text("TEXT", (4.0, 4.0), "near the fan", 0.1)
    assert plant_of(imported(tmp_path, drawing)).rooms[0].name == "Slicing"


def test_only_the_first_line_of_a_longer_text_is_the_name(tmp_path):
    drawing = Sheet("R2010", "m").outline("ROOMS", SLICING)
    drawing.space.add_mtext("Slicing\nArea 48 m2", dxfattribs={"layer": "TEXT", "insert": (1, 5), "char_height": 0.3})
    assert plant_of(imported(tmp_path, drawing, SITES)).rooms[0].name == "Slicing"


def test_a_room_without_text_is_numbered_and_unconfirmed(tmp_path):
    drawing = two_rooms().outline("ROOMS", [(11.2, 0.0), (14.0, 0.0), (14.0, 6.0), (11.2, 6.0)])
    plant = plant_of(imported(tmp_path, drawing))
    assert plant.rooms[2].name == "Room 3"
    assert "no text stands in the room" in plant.unconfirmed["rooms[room-3].name"]


@pytest.mark.parametrize(
    ("name", "hygiene_class", "exposed", "wetness"),
    [
        ("Slicing", 1, True, "wet"),
        ("Chill store", 2, True, "damp"),
        ("Smoking", 2, True, "damp"),
        ("Corridor", 3, False, "dry"),
        ("Raw intake", 4, True, "wet"),
        ("Raw chill store", 4, True, "wet"),
        ("Waste room", 5, False, "damp"),
        ("Hall 7", 3, True, "wet"),
    ],
)
def test_without_a_sheet_the_rooms_name_gives_class_and_climate(tmp_path, name, hygiene_class, exposed, wetness):
    drawing = Sheet("R2010", "m").outline("ROOMS", SLICING).text("TEXT", (1.0, 5.0), name)
    sites = {"Sites": [["Code", "Description", "Type", "Room"], ["S001", "x", "Floor drain", name]]}
    plant = plant_of(imported(tmp_path, drawing, sites))
    room = plant.rooms[0]
    assert (room.hygiene_class, room.exposed_product, room.wetness) == (hygiene_class, exposed, wetness)
    assert f"rooms[{room.id}].hygiene_class" in plant.unconfirmed


ROOMS = ["Room", "Hygiene class", "Exposed product", "Wetness", "Temperature (°F)", "No phones"]


def test_a_sheet_of_rooms_is_believed_and_confirms(tmp_path):
    sheets = {"Rooms": [ROOMS, ["Slicing", 2, "no", "dry", 50, "yes"], ["Corridor", 4, "yes", "damp", 59, "no"]]}
    plant = plant_of(imported(tmp_path, book=sheets))
    room = plant.rooms[0]
    assert (room.hygiene_class, room.exposed_product, room.wetness) == (2, False, "dry")
    assert (room.temperature_c, room.no_electrical_devices) == (pytest.approx(10), True)
    assert [path for path in plant.unconfirmed if path.startswith("rooms[")] == []


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (["Slicing", 12, "no", "dry", 50, ""], "hygiene class 12 is none of 1 (cleanest) to 9"),
        (["Slicing", 1, "perhaps", "dry", 50, ""], "exposed product: 'perhaps' is neither yes nor no"),
        (["Slicing", 1, "no", "sticky", 50, ""], "wetness: 'sticky' is none of wet, damp, dry"),
        (["Slicing", 1, "no", "dry", 900, ""], "is no temperature of a room"),
        (["Slicing", 1, "no", "dry", "cool", ""], "'cool' is no number with a unit"),
    ],
)
def test_a_sheet_of_rooms_that_says_the_impossible_is_refused_with_the_row(tmp_path, row, words):
    text = said(imported(tmp_path, book={"Rooms": [ROOMS, row]}))
    assert "sheet 'Rooms', row 2" in text
    assert words in text


def test_a_listed_room_that_is_not_drawn_is_put_aside(tmp_path):
    outcome = imported(tmp_path, book={"Rooms": [ROOMS, ["Bakery", 1, "no", "dry", 50, ""]]})
    assert "'Bakery': no room of this name in the drawing" in aside(outcome)


def test_a_room_listed_twice_is_refused_naming_both_rows(tmp_path):
    row = ["Slicing", 1, "no", "dry", 50, ""]
    assert "stands in row 2 too" in said(imported(tmp_path, book={"Rooms": [ROOMS, row, row]}))


def test_two_rooms_of_one_name_get_identifiers_of_their_own(tmp_path):
    third = [(11.2, 0.0), (14.0, 0.0), (14.0, 6.0), (11.2, 6.0)]
    drawing = two_rooms().outline("ROOMS", third).text("TEXT", (12.0, 5.0), "Corridor")
    assert [room.id for room in plant_of(imported(tmp_path, drawing)).rooms] == ["slicing", "corridor", "corridor-2"]


def test_the_corridor_keeps_its_own_outline(tmp_path):
    assert plant_of(imported(tmp_path)).rooms[1].outline == tuple(CORRIDOR)


def test_a_room_tag_with_attributes_names_its_room(tmp_path):
    drawing = Sheet("R2010", "m").outline("ROOMS", SLICING).symbol("TEXT", (4.0, 3.0), NAME="Slicing", NUMBER="104")
    assert plant_of(imported(tmp_path, drawing, SITES)).rooms[0].name == "Slicing"


def test_a_site_code_never_names_a_room(tmp_path):
    drawing = Sheet("R2010", "m").outline("ROOMS", SLICING).text("TEXT", (4.0, 3.0), "S001", 0.9)
    drawing.text("TEXT", (1.0, 5.0), "Slicing", 0.2)
    assert plant_of(imported(tmp_path, drawing, SITES)).rooms[0].name == "Slicing"
