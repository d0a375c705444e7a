"""Doors: however drawn, a place, a width and two sides."""

import pytest
from builders.drawings import CORRIDOR, SLICING, Sheet
from builders.imports import aside, imported, plant_of, said

OUT = [(8.1, 2.0), (8.1, 3.0)]


def _drawing():
    sheet = Sheet("R2010", "m").outline("ROOMS", SLICING).outline("ROOMS", CORRIDOR)
    return sheet.text("TEXT", (1.0, 5.0), "Slicing").text("TEXT", (9.0, 5.0), "Corridor")


def _doors(tmp_path, drawing):
    return plant_of(imported(tmp_path, drawing)).doors


def _as_line(sheet):
    return sheet.line("DOORS", OUT)


def _as_swing(sheet):
    return sheet.arc("DOORS", (8.1, 2.0), 1.0, (0, 90)).line("DOORS", [(8.1, 2.0), (9.1, 2.0)])


def _as_swing_hung_above(sheet):
    return sheet.arc("DOORS", (8.1, 3.0), 1.0, (180, 270)).line("DOORS", [(8.1, 3.0), (7.1, 3.0)])


def _as_box(sheet):
    return sheet.outline("DOORS", [(8.0, 2.0), (8.2, 2.0), (8.2, 3.0), (8.0, 3.0)])


def _as_symbol(sheet, at=(8.1, 2.0), turned=90):
    block = sheet.document.blocks.new("LEAF")
    block.add_line((0, 0), (1, 0))
    mark = sheet.space.add_blockref("LEAF", at, dxfattribs={"layer": "DOORS", "rotation": turned})
    assert mark is not None
    return sheet


@pytest.mark.parametrize("draw", [_as_line, _as_swing, _as_swing_hung_above, _as_box, _as_symbol])
def test_a_door_is_found_however_it_is_drawn(tmp_path, draw):
    (door,) = _doors(tmp_path, draw(_drawing()))
    assert set(door.joins) == {"slicing", "corridor"}
    assert door.width_m == pytest.approx(1.0, abs=0.05)
    assert door.at == pytest.approx((8.1, 2.5), abs=0.55)


def test_a_symbol_in_the_middle_of_its_opening_joins_the_rooms_on_either_side(tmp_path):
    (door,) = _doors(tmp_path, _as_symbol(_drawing(), (8.1, 2.5), 0))
    assert set(door.joins) == {"slicing", "corridor"}


def test_a_door_in_an_outer_wall_leads_outside(tmp_path):
    doors = _doors(tmp_path, _as_line(_drawing()).line("DOORS", [(11.0, 1.0), (11.0, 2.0)]))
    assert set(doors[1].joins) == {"corridor", "outside"}


def test_two_doors_in_one_wall_are_two(tmp_path):
    doors = _doors(tmp_path, _as_line(_drawing()).line("DOORS", [(8.1, 4.0), (8.1, 5.5)]))
    assert [door.width_m for door in doors] == [1.0, 1.5]


def test_a_mark_that_joins_nothing_is_put_aside_with_its_place(tmp_path):
    outcome = imported(tmp_path, _as_line(_drawing()).line("DOORS", [(3.0, 3.0), (4.0, 3.0)]))
    assert "floor.dxf, doors, at (3.5, 3.0) m: joins no two rooms" in aside(outcome)
    assert len(plant_of(outcome).doors) == 1


def test_a_room_with_sites_that_no_door_leads_to_is_refused_by_name(tmp_path):
    text = said(imported(tmp_path, _drawing()))
    assert "no door leads from 'corridor', where the walk begins, to room 'slicing' with 2 sites" in text
    assert "draw the missing door" in text


@pytest.mark.parametrize(
    ("name", "barrier"), [("Gowning", "full_change"), ("Boot wash lobby", "boots"), ("Corridor", "none")]
)
def test_what_is_changed_at_a_door_follows_from_the_rooms_name_unconfirmed(tmp_path, name, barrier):
    drawing = _as_line(Sheet("R2010", "m").outline("ROOMS", SLICING).outline("ROOMS", CORRIDOR))
    drawing.text("TEXT", (1.0, 5.0), "Slicing").text("TEXT", (9.0, 5.0), name, 0.25)
    sites = {"Sites": [["Code", "Description", "Type", "Room"], ["S001", "x", "Floor drain", "Slicing"]]}
    plant = plant_of(imported(tmp_path, drawing, sites))
    assert plant.doors[0].barrier == barrier
    assert "doors[door-1].barrier" in plant.unconfirmed


def test_two_leaves_that_meet_are_one_door_from_hinge_to_hinge(tmp_path):
    drawing = _drawing().arc("DOORS", (8.1, 2.0), 0.8, (0, 90)).arc("DOORS", (8.1, 3.6), 0.8, (270, 360))
    (door,) = _doors(tmp_path, drawing)
    assert (door.at, door.width_m) == ((8.1, 2.8), 1.6)


@pytest.mark.parametrize("name", ["D 12", "d-12", "door-1"])
def test_the_mapping_says_what_is_changed_at_a_door_by_its_number_or_id(tmp_path, name):
    drawing = _as_line(_drawing()).text("DOORS", (8.3, 2.5), "D 12", 0.1)
    plant = plant_of(imported(tmp_path, drawing, doors={name: "boots"}))
    assert plant.doors[0].barrier == "boots"
    assert "doors[door-1].barrier" not in plant.unconfirmed


def test_a_mapping_that_names_a_door_nobody_drew_is_refused_with_a_hint(tmp_path):
    drawing = _as_line(_drawing()).text("DOORS", (8.3, 2.5), "D 12", 0.1)
    assert "no door is called so; did you mean 'D 12'?" in said(imported(tmp_path, drawing, doors={"D 13": "boots"}))


def test_a_text_that_is_no_doors_number_is_put_aside(tmp_path):
    drawing = _as_line(_drawing()).text("DOORS", (3.0, 5.0), "fire doors red", 0.1)
    assert "'fire doors red': a text among the doors that is no door's number" in aside(imported(tmp_path, drawing))
