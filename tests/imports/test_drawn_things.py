"""Machines, drains, things overhead, air units and the clean base."""

import pytest
from builders.drawings import two_rooms
from builders.imports import aside, imported, plant_of


def test_a_machine_takes_the_text_inside_it_and_its_room(tmp_path):
    (machine,) = plant_of(imported(tmp_path)).equipment
    assert (machine.id, machine.name, machine.room) == ("slicer-a", "Slicer A", "slicing")


def test_a_shape_inside_a_machine_is_a_detail_of_it(tmp_path):
    drawing = two_rooms().outline("EQUIPMENT", [(2.5, 2.2), (3.0, 2.2), (3.0, 2.8), (2.5, 2.8)])
    assert len(plant_of(imported(tmp_path, drawing)).equipment) == 1


def test_lines_on_the_layer_of_machines_are_counted_and_put_aside(tmp_path):
    drawing = two_rooms().line("EQUIPMENT", [(5, 5), (6, 5)]).line("EQUIPMENT", [(5, 4), (6, 4)])
    assert "layer EQUIPMENT '2 lines': no closed outline" in aside(imported(tmp_path, drawing))


def test_a_machine_outside_every_room_is_put_aside(tmp_path):
    drawing = two_rooms().outline("EQUIPMENT", [(30, 0), (31, 0), (31, 1), (30, 1)])
    assert "stands in no room" in aside(imported(tmp_path, drawing))


def test_a_pipe_run_without_flow_is_unknown_and_unconfirmed(tmp_path):
    plant = plant_of(imported(tmp_path, two_rooms().line("DRAINS", [(1.0, 1.0), (7.0, 1.0)])))
    assert (plant.drains[0].name, plant.drains[0].flow) == ("Drain 1", "unknown")
    assert plant.unconfirmed["drains[drain-1].flow"] == "nobody has said which way its water runs"


@pytest.mark.parametrize("written", ["D4", "d4", "D-4 "])
def test_the_mapping_says_which_way_a_drain_runs(tmp_path, written):
    drawing = two_rooms().line("DRAINS", [(1.0, 1.0), (7.0, 1.0)]).text("DRAINS", (1.2, 1.1), "D4", 0.1)
    plant = plant_of(imported(tmp_path, drawing, drains={written.replace("-", ""): "against"}))
    assert (plant.drains[0].id, plant.drains[0].flow) == ("d4", "against")
    assert "drains[d4].flow" not in plant.unconfirmed


def test_single_lines_that_meet_are_one_pipe_run_in_drawing_order(tmp_path):
    drawing = two_rooms().line("DRAINS", [(1.0, 1.0), (4.0, 1.0)]).line("DRAINS", [(4.0, 1.0), (4.0, 5.0)])
    (drain,) = plant_of(imported(tmp_path, drawing)).drains
    assert drain.path == ((1.0, 1.0), (4.0, 1.0), (4.0, 5.0))


def test_polylines_that_touch_stay_two_runs(tmp_path):
    drawing = two_rooms().line("DRAINS", [(1, 1), (2, 1), (4, 1)]).line("DRAINS", [(4, 1), (4, 3), (4, 5)])
    assert len(plant_of(imported(tmp_path, drawing)).drains) == 2


def test_a_closed_gully_is_no_run_and_is_put_aside(tmp_path):
    drawing = two_rooms().outline("DRAINS", [(1, 1), (1.2, 1), (1.2, 1.2), (1, 1.2)])
    assert "closed, so no pipe run" in aside(imported(tmp_path, drawing))


@pytest.mark.parametrize(
    ("name", "kind"), [("Evaporator 1", "evaporator"), ("Air duct", "duct"), ("Catwalk", "platform"), ("Thing", "pipe")]
)
def test_things_overhead_are_told_apart_by_their_name(tmp_path, name, kind):
    drawing = (
        two_rooms().outline("OVERHEAD", [(1, 5), (3, 5), (3, 5.5), (1, 5.5)]).text("OVERHEAD", (1.2, 5.1), name, 0.1)
    )
    plant = plant_of(imported(tmp_path, drawing))
    assert (plant.overhead[0].kind, plant.overhead[0].room, plant.overhead[0].drips) == (kind, "slicing", True)
    assert f"overhead[{plant.overhead[0].id}].drips" in plant.unconfirmed


def test_a_pipe_drawn_as_a_line_gets_a_width(tmp_path):
    plant = plant_of(imported(tmp_path, two_rooms().line("OVERHEAD", [(1.0, 5.0), (6.0, 5.0)])))
    assert {y for _, y in plant.overhead[0].outline} == {4.9, 5.1}


def test_an_air_unit_blows_where_its_line_points(tmp_path):
    drawing = two_rooms().symbol("COOLERS", (7.5, 5.5), NAME="Cooler 1").line("COOLERS", [(7.5, 5.5), (3.0, 5.5)])
    (unit,) = plant_of(imported(tmp_path, drawing)).air
    assert (unit.name, unit.room, unit.blows_towards) == ("Cooler 1", "slicing", (3.0, 5.5))


def test_an_air_unit_without_line_blows_all_round_unconfirmed(tmp_path):
    plant = plant_of(imported(tmp_path, two_rooms().symbol("COOLERS", (7.5, 5.5))))
    assert plant.air[0].blows_towards is None
    assert "air[air-1].blows_towards" in plant.unconfirmed


@pytest.mark.parametrize("given", [{"plant": {"base": (9.0, 1.0)}}, {}])
def test_the_base_is_where_somebody_says_it_is(tmp_path, given):
    drawing = two_rooms() if given else two_rooms().text("BASE", (9.0, 1.0), "BASE", 0.1)
    plant = plant_of(imported(tmp_path, drawing, **given))
    assert plant.base == (9.0, 1.0)
    assert "base" not in plant.unconfirmed


def test_without_word_the_base_lies_in_a_room_named_for_it_unconfirmed(tmp_path):
    plant = plant_of(imported(tmp_path))
    assert 8.2 < plant.base[0] < 11.0
    assert plant.unconfirmed["base"] == "nobody has said where kit is laid out; taken in 'Corridor'"


@pytest.mark.parametrize("layer", ["PEOPLE", "PRODUCT FLOW"])
def test_a_closed_shape_among_ways_is_put_aside(tmp_path, layer):
    drawing = two_rooms().outline(layer, [(1, 1), (2, 1), (2, 2)])
    assert f"floor.dxf, layer {layer}, at (1.0, 1.0) m: closed, so no" in aside(imported(tmp_path, drawing))


def test_what_no_floor_can_be_read_from_is_counted_and_put_aside(tmp_path):
    drawing = two_rooms()
    drawing.space.add_hatch()
    drawing.space.add_hatch()
    drawing.space.add_3dface([(0, 0), (1, 0), (1, 1), (0, 1)])
    told = aside(imported(tmp_path, drawing))
    assert "floor.dxf '2 HATCH': neither lines nor texts nor symbols" in told
    assert "floor.dxf '1 3D FACE OR SOLID'" in told
