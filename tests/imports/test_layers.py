"""Which layer holds what, and drawings that hold nothing of use."""

import pytest
from builders.drawings import SITES, Sheet, two_rooms, write_xlsx
from builders.imports import aside, imported, plant_of

from swabwright.errors import SwabwrightError
from swabwright.plant.imports.build import import_plant
from swabwright.plant.imports.outcome import Sources
from swabwright.plant.registry import load_catalogue


def _refused(folder, content):
    (folder / "floor.dxf").write_bytes(content)
    sites = write_xlsx(folder / "sites.xlsx", {"Sites": SITES})
    with pytest.raises(SwabwrightError) as error:
        import_plant(Sources(sites, folder / "floor.dxf"), load_catalogue())
    return str(error.value)


@pytest.mark.parametrize("name", ["ROOMS", "A-ROOM", "Room outlines", "room_boundary", "Spaces"])
def test_layers_are_known_by_their_usual_names(tmp_path, name):
    drawing = Sheet("R2010", "m").outline(name, [(0, 0), (8, 0), (8, 6), (0, 6)]).text("TEXT", (1, 5), "Slicing")
    sites = {"Sites": [["Code", "Description", "Type", "Room"], ["S001", "x", "Floor drain", "Slicing"]]}
    assert len(plant_of(imported(tmp_path, drawing, sites)).rooms) == 1


def test_guessed_layers_are_shown_with_their_score(tmp_path):
    assert "floor.dxf: layer 'DOORS' holds doors (score 100)" in imported(tmp_path).guesses


def test_a_layer_of_another_name_is_put_aside_by_name(tmp_path):
    outcome = imported(tmp_path, two_rooms().line("HATCHING 7", [(0, 0), (1, 1)]))
    assert "floor.dxf, layer HATCHING 7: no kind of thing is known by this name" in aside(outcome)


def test_the_mapping_names_a_layer_and_can_ignore_one(tmp_path):
    drawing = two_rooms().outline("X1", [(5, 4), (6, 4), (6, 5), (5, 5)])
    outcome = imported(tmp_path, drawing, drawing={"layers": {"equipment": ["X1"]}, "ignore": ["EQUIPMENT"]})
    assert [machine.name for machine in plant_of(outcome).equipment] == ["Machine at (5.5, 4.5) m"]


@pytest.mark.parametrize(
    ("layers", "words"),
    [
        ({"rooms": ["ROOM"]}, "nothing is drawn on a layer 'ROOM'; did you mean 'ROOMS'"),
        ({"room": ["ROOMS"]}, "no kind of thing 'room'; did you mean 'rooms'"),
    ],
)
def test_a_mapping_that_names_no_layer_is_refused_with_a_hint(tmp_path, layers, words):
    with pytest.raises(SwabwrightError, match=words):
        imported(tmp_path, drawing={"layers": layers})


def test_a_drawing_of_3d_faces_is_refused_in_a_sentence(tmp_path):
    drawing = Sheet("R2010", "m")
    drawing.space.add_3dface([(0, 0, 0), (8, 0, 0), (8, 6, 0), (0, 6, 0)], dxfattribs={"layer": "ROOMS"})
    with pytest.raises(SwabwrightError, match=r"holds 3D faces or solids only \(1\), no outlines; draw each room"):
        imported(tmp_path, drawing)


def test_a_drawing_of_polyface_meshes_is_refused_too(tmp_path):
    drawing = Sheet("R2010", "m")
    drawing.space.add_polymesh((3, 3), dxfattribs={"layer": "ROOMS"})
    with pytest.raises(SwabwrightError, match="3D faces or solids only"):
        imported(tmp_path, drawing)


def test_an_empty_drawing_is_refused(tmp_path):
    with pytest.raises(SwabwrightError, match="holds no lines at all"):
        imported(tmp_path, Sheet("R2010", "m"))


def test_a_drawing_without_closed_shape_for_rooms_is_refused(tmp_path):
    with pytest.raises(SwabwrightError, match="no closed shape on the layer of the rooms; draw each room as a closed"):
        imported(tmp_path, Sheet("R2010", "m").line("ROOMS", [(0, 0), (8, 0), (8, 6)]))


@pytest.mark.parametrize("content", [b"", b"not a drawing", b"0\nSECTION\n2\nHEADER\n9\n", b"%PDF-1.7\n\x00\x01"])
def test_a_file_that_is_no_drawing_is_refused_with_the_remedy(tmp_path, content):
    text = _refused(tmp_path, content)
    assert text.startswith("floor.dxf: ")
    assert "DXF R2010" in text or "draw each room" in text


def test_a_drawing_that_is_not_there_is_refused(tmp_path):
    sites = write_xlsx(tmp_path / "sites.xlsx", {"Sites": SITES})
    with pytest.raises(SwabwrightError, match=r"gone\.dxf: there is no such file"):
        import_plant(Sources(sites, tmp_path / "gone.dxf"), load_catalogue())
