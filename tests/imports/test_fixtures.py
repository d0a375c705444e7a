"""Files as plants keep them, made once and committed: every drawing with every list gives the same plant."""

from pathlib import Path

import pytest
from builders.imports import plant_of
from shapely.geometry import Polygon

from swabwright.errors import SwabwrightError
from swabwright.plant.imports.build import import_plant
from swabwright.plant.imports.outcome import Sources
from swabwright.plant.registry import load_catalogue

FOLDER = Path(__file__).parents[1] / "fixtures" / "imports"
DRAWINGS = sorted(FOLDER.glob("floor-*.dxf"))
LISTS = sorted(FOLDER.glob("sites-*"))


def _outcome(sites, drawing):
    return import_plant(Sources(sites, drawing), load_catalogue())


@pytest.mark.parametrize("drawing", DRAWINGS, ids=lambda path: path.stem)
def test_every_version_and_unit_gives_the_same_floor(drawing):
    plant = plant_of(_outcome(FOLDER / "sites-messy.xlsx", drawing))
    assert [(room.name, round(Polygon(room.outline).area, 1)) for room in plant.rooms] == [
        ("Slicing", 48.0),
        ("Corridor", 16.8),
    ]
    assert [round(door.width_m, 2) for door in plant.doors] == [1.2, 1.0]
    assert plant.sites[0].position == pytest.approx((5.0, 0.8), abs=0.002)


@pytest.mark.parametrize("sites", LISTS, ids=lambda path: path.name)
def test_every_list_gives_the_same_sites(sites):
    plant = plant_of(_outcome(sites, FOLDER / "floor-r2010-feet.dxf"))
    found = {site.code: (site.type, site.room, site.zone, site.drain) for site in plant.sites if site.code != "S003"}
    assert found == {
        "S001": ("drain_channel", "slicing", 3, "d1"),
        "S002": ("slicer_blade", "slicing", 1, None),
        "S004": ("door_seal", "corridor", 4, None),
    }


@pytest.mark.parametrize("suffix", ["xlsx", "ods"])
def test_a_list_with_two_header_rows_merged_rooms_and_notes_is_read_in_full(suffix):
    outcome = _outcome(FOLDER / f"sites-messy.{suffix}", FOLDER / "floor-r2018-mm.dxf")
    areas = {site.code: round(site.area_cm2 or 0) for site in plant_of(outcome).sites}
    assert areas == {"S001": 900, "S002": 1200, "S003": 400, "S004": 929}
    reasons = [each.reason for each in outcome.set_aside if ", row " in each.where]
    assert reasons == ["stands above the header", "empty row", "a note below the table"]


def test_a_list_saved_by_a_western_office_program_keeps_its_letters_and_decimal_commas():
    plant = plant_of(_outcome(FOLDER / "sites-cp1252.csv", FOLDER / "floor-r2000-inch.dxf"))
    assert plant.sites[0].name == "Abfluß by the slicer"
    assert plant.sites[1].area_cm2 == 1200.5


def test_a_drawing_of_faces_only_is_refused():
    with pytest.raises(SwabwrightError, match=r"faces-only\.dxf: holds 3D faces or solids only"):
        _outcome(FOLDER / "sites-cp1252.csv", FOLDER / "faces-only.dxf")
