"""Drawing units: stated, or guessed from the size of the rooms and shown."""

import pytest
from builders.drawings import CORRIDOR, SLICING, Sheet, two_rooms
from builders.imports import imported, plant_of
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon

from swabwright.errors import SwabwrightError
from swabwright.plant.imports.drawing import Drawing, Shape
from swabwright.plant.imports.notes import Notes
from swabwright.plant.imports.scale import find_unit, in_metres
from swabwright.plant.imports.vocabulary import load_vocabulary
from swabwright.plant.registry import load_figures

WORDS = load_vocabulary(load_figures())


def _square(side):
    points = ((0.0, 0.0), (side, 0.0), (side, side), (0.0, side), (0.0, 0.0))
    return Drawing("floor.dxf", (Shape("ROOMS", points, True),), (), ())


@pytest.mark.parametrize(
    ("version", "unit"),
    [
        ("R2000", "mm"),
        ("R2000", "feet"),
        ("R2004", "cm"),
        ("R2007", "m"),
        ("R2010", "inch"),
        ("R2010", "mm"),
        ("R2013", "feet"),
        ("R2018", "mm"),
        ("R2018", "inch"),
    ],
)
def test_every_version_and_every_stated_unit_gives_the_same_rooms(tmp_path, version, unit):
    plant = plant_of(imported(tmp_path, two_rooms(version, unit)))
    assert [Polygon(room.outline).area for room in plant.rooms] == pytest.approx([48.0, 16.8], rel=1e-3)
    assert "rooms" not in plant.unconfirmed


@pytest.mark.parametrize(("version", "unit"), [("R12", "mm"), ("R12", "m"), ("R2010", "mm"), ("R2018", "m")])
def test_a_drawing_without_unit_is_guessed_shown_and_unconfirmed(tmp_path, version, unit):
    outcome = imported(tmp_path, two_rooms(version, unit, stated=False))
    assert Polygon(plant_of(outcome).rooms[0].outline).area == pytest.approx(48.0)
    assert f"names no unit; read as {unit}" in outcome.assumptions["rooms"]


@pytest.mark.parametrize("unit", ["cm", "inch", "feet"])
def test_the_mapping_says_the_unit_of_a_drawing_that_names_none(tmp_path, unit):
    outcome = imported(tmp_path, two_rooms("R12", unit), drawing={"unit": unit})
    assert Polygon(plant_of(outcome).rooms[0].outline).area == pytest.approx(48.0, rel=1e-3)
    assert "rooms" not in outcome.assumptions


def test_a_stated_unit_that_makes_rooms_absurd_is_refused(tmp_path):
    drawing = two_rooms("R2010", "mm")
    drawing.document.header["$INSUNITS"] = 6
    with pytest.raises(SwabwrightError, match=r"says it is drawn in m, by which its middle room is .* m across"):
        imported(tmp_path, drawing)


@given(st.floats(min_value=4.0, max_value=14.0), st.sampled_from([("mm", 1000.0), ("m", 1.0)]))
def test_rooms_of_usual_size_in_mm_or_m_are_always_told_apart(side, unit):
    name, factor = unit
    assert find_unit(_square(side * factor), (None, 0, 1), WORDS, Notes()) == name


def test_a_drawing_far_from_its_origin_is_moved_to_it(tmp_path):
    def away(points):
        return [(x + 512_000.4, y + 6_230_000.2) for x, y in points]

    drawing = Sheet("R2010", "m").outline("ROOMS", away(SLICING)).outline("ROOMS", away(CORRIDOR))
    for name, at in (("Slicing", (1.0, 3.0)), ("Corridor", (9.0, 3.0))):
        drawing.text("TEXT", away([at])[0], name)
    outcome = imported(tmp_path, drawing.line("DOORS", away([(8.1, 2.0), (8.1, 3.0)])))
    assert plant_of(outcome).rooms[0].outline[0] == pytest.approx((0.4, 0.2), abs=0.01)
    assert any("lies far from its origin" in each for each in outcome.guesses)


def test_metres_keep_shapes_labels_and_arcs_together():
    shape = Shape("D", ((0.0, 0.0), (2000.0, 0.0)), False, (1000.0, 0.0))
    moved = in_metres(Drawing("f", (shape,), (), ()), "mm", Notes()).shapes[0]
    assert (moved.points, moved.centre) == (((0.0, 0.0), (2.0, 0.0)), (1.0, 0.0))
