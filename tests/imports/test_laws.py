"""What must hold for every import: nothing dropped, nothing depends on order, place or unit of drawing."""

import random

import pytest
from builders.drawings import SITES, two_rooms, write_xlsx
from builders.imports import aside, imported, plant_of, said
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.plant.imports.build import import_plant
from swabwright.plant.imports.outcome import Sources
from swabwright.plant.registry import load_catalogue

SMALL = settings(
    deadline=None, derandomize=True, max_examples=6, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
ROWS = st.lists(
    st.tuples(
        st.sampled_from(["S010", "S011", "S012", "", "#"]),
        st.sampled_from(["By the door", "Under the fan", ""]),
        st.sampled_from(["Floor drain", "Slicer blade", "Xylophone", ""]),
        st.sampled_from(["Slicing", "Corridor", "Bakery", ""]),
        st.sampled_from([1, "Z2", "seven", ""]),
        st.sampled_from([100, "1 m2", "huge", ""]),
    ),
    max_size=5,
)


@SMALL
@given(ROWS)
def test_every_row_of_the_list_is_a_site_or_put_aside_unless_a_fault_is_told(tmp_path, rows):
    outcome = imported(tmp_path, book={"Sites": [*SITES, *rows]})
    assert (outcome.plant is None) == bool(said(outcome))
    codes = [site.code for site in outcome.plant.sites] if outcome.plant else []
    for number, row in enumerate(rows, start=len(SITES) + 1):
        assert outcome.plant is None or row[0] in codes or f"row {number}" in aside(outcome)


@pytest.mark.parametrize(
    ("column", "value"), [(0, "#"), (0, "S001"), (2, "Xylophone"), (3, "Bakery"), (4, "seven"), (5, "huge")]
)
def test_every_fault_in_a_row_is_told_with_its_row_whatever_else_is_wrong(tmp_path, column, value):
    bad = ["S010", "By the door", "Floor drain", "Slicing", 3, 100]
    bad[column] = value
    outcome = imported(tmp_path, book={"Sites": [*SITES, bad, ["S011", "x", "Floor drain", "Nowhere", "ten", ""]]})
    assert "row 5:" in said(outcome)
    assert "row 6:" in said(outcome)


def _cells(plant):
    """The plant's sites without their keys, by code."""
    return {site.code: site.model_copy(update={"key": "0" * 32}) for site in plant.sites}


def _coded():
    drawing = two_rooms()
    for code, at in (("S001", (1.0, 1.0)), ("S002", (2.5, 2.8)), ("S003", (9.0, 1.0))):
        drawing.text("SITES", at, code, 0.1)
    return drawing


@SMALL
@given(st.permutations(SITES[1:]))
def test_the_order_of_the_list_changes_no_site(tmp_path, rows):
    shuffled = plant_of(imported(tmp_path, _coded(), {"Sites": [SITES[0], *rows]}))
    assert _cells(shuffled) == _cells(plant_of(imported(tmp_path, _coded())))


@SMALL
@given(st.randoms(use_true_random=False))
def test_the_order_of_drawing_changes_no_room_and_no_door(tmp_path, shuffle: random.Random):
    drawing = _coded()
    entities = list(drawing.space)
    shuffle.shuffle(entities)
    for entity in entities:
        drawing.space.unlink_entity(entity)
        drawing.space.add_entity(entity)
    plant, plain = plant_of(imported(tmp_path, drawing)), plant_of(imported(tmp_path, _coded()))
    assert sorted(room.outline for room in plant.rooms) == sorted(room.outline for room in plain.rooms)
    assert sorted((door.at, door.width_m) for door in plant.doors) == sorted(
        (door.at, door.width_m) for door in plain.doors
    )
    assert _cells(plant) == _cells(plain)


@SMALL
@given(st.tuples(st.integers(-900, 900), st.integers(-900, 900)))
def test_a_drawing_moved_on_its_sheet_moves_the_plant_and_nothing_else(tmp_path, away):
    drawing = _coded()
    for entity in drawing.space:
        entity.translate(away[0] * 1000, away[1] * 1000, 0)
    plant, plain = plant_of(imported(tmp_path, drawing)), plant_of(imported(tmp_path, _coded()))
    moved = [(round(x - away[0], 3), round(y - away[1], 3)) for x, y in plant.rooms[0].outline]
    assert moved == list(plain.rooms[0].outline)
    assert [door.joins for door in plant.doors] == [door.joins for door in plain.doors]


@pytest.mark.parametrize("angle", [17, 45, 90, 133])
def test_a_drawing_turned_on_its_sheet_keeps_its_doors_and_sites(tmp_path, angle):
    drawing = _coded()
    for entity in drawing.space:
        entity.rotate_z(angle * 3.141592653589793 / 180)
    plant, plain = plant_of(imported(tmp_path, drawing)), plant_of(imported(tmp_path, _coded()))
    assert [(door.joins, door.width_m) for door in plant.doors] == [(door.joins, door.width_m) for door in plain.doors]
    assert [(site.code, site.room, site.equipment) for site in plant.sites] == [
        (site.code, site.room, site.equipment) for site in plain.sites
    ]


def test_every_layer_with_anything_on_it_is_used_or_put_aside(tmp_path):
    drawing = (
        two_rooms().line("HATCH", [(0, 0), (1, 1)]).text("TITLE BLOCK", (0, -3), "Issue 7").line("0", [(0, 0), (2, 0)])
    )
    outcome = imported(tmp_path, drawing)
    told = aside(outcome) + "\n".join(outcome.guesses)
    assert [layer for layer in ("ROOMS", "DOORS", "HATCH", "TITLE BLOCK", "0") if layer not in told] == []


@pytest.mark.slow
@settings(deadline=None, derandomize=True, max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_a_damaged_drawing_imports_or_is_refused_in_words(tmp_path, data):
    """Cut short or with lines struck out, a drawing never ends in anything but a plant, faults or a refusal."""
    sites = write_xlsx(tmp_path / "sites.xlsx", {"Sites": SITES})
    path = two_rooms("R2000").save(tmp_path / "whole.dxf")
    lines = path.read_text("utf-8").splitlines(keepends=True)
    start = data.draw(st.integers(0, len(lines) - 1))
    end = data.draw(st.integers(start, min(len(lines), start + 40)))
    (tmp_path / "floor.dxf").write_text("".join(lines[:start] + lines[end:]), "utf-8")
    told = _told(Sources(sites, tmp_path / "floor.dxf"))
    assert told is None or told.startswith(("floor.dxf: ", "floor.dxf, ", "sheet 'Sites', "))


def _told(sources):
    """What stops an import, or None when nothing does."""
    try:
        outcome = import_plant(sources, load_catalogue())
    except SwabwrightError as error:
        return str(error)
    return None if outcome.plant else said(outcome)
