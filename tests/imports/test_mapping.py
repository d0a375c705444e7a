"""The mapping file: what a person says, refused when it says nothing known, drafted from the guesses."""

import tomllib

import pytest
from builders.drawings import SITES
from builders.imports import imported, plant_of

from swabwright.errors import DocumentRefused, SwabwrightError
from swabwright.plant.imports.draft import mapping_text
from swabwright.plant.imports.mapping import ImportMapping, read_mapping


def _written(tmp_path, text):
    (tmp_path / "mapping.toml").write_text(text, encoding="utf-8")
    return tmp_path / "mapping.toml"


def test_an_empty_mapping_says_nothing(tmp_path):
    assert read_mapping(_written(tmp_path, "")) == ImportMapping()


def test_a_mapping_is_read_with_all_its_parts(tmp_path):
    mapping = read_mapping(
        _written(
            tmp_path,
            """
            leave_out = ["S009"]
            [plant]
            name = "Invented smokehouse"
            base = [1.0, 2]
            [drawing]
            unit = "mm"
            layers = { rooms = ["A"], doors = ["B", "C"] }
            [sheets.sites]
            header_row = 3
            columns = { code = "column B" }
            [kinds]
            "Gully" = "drain_channel"
            """,
        )
    )
    assert (mapping.plant.base, mapping.drawing.layers["doors"]) == ((1.0, 2.0), ("B", "C"))
    assert mapping.sheets["sites"].corrections().header_row == 3


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[drawing]\nunits = 'mm'", "drawing.units: no such field; did you mean 'unit'?"),
        ("[drawing]\nunit = 'yard'", "must be one of mm, cm, m, inch, feet"),
        ("[drains]\nD1 = 'up'", "drains.D1: must be one of along, against, unknown"),
        ("[keys]\nS001 = 'abc'", "keys.S001"),
        ("[sheets.sites]\nheader_row = 0", "sheets.sites.header_row"),
        ("[drawing\n", "not TOML"),
    ],
)
def test_a_mapping_with_a_fault_is_refused_with_its_path(tmp_path, text, words):
    with pytest.raises(DocumentRefused) as error:
        read_mapping(_written(tmp_path, text))
    assert words in str(error.value)


def test_a_mapping_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(SwabwrightError, match=r"gone\.toml: there is no such mapping file"):
        read_mapping(tmp_path / "gone.toml")


def test_the_draft_of_an_import_gives_the_same_plant_with_every_guess_said(tmp_path):
    first = imported(tmp_path)
    mapping = tomllib.loads(mapping_text(first.draft))
    again = imported(tmp_path, **mapping)
    keys = {site.code: site.key for site in plant_of(first).sites}
    plant = plant_of(imported(tmp_path, **{**mapping, "keys": keys}))
    assert plant == plant_of(first)
    assert any("(as the mapping says)" in each for each in again.guesses)


def test_the_draft_asks_for_every_kind_it_could_not_match(tmp_path):
    rows = [*SITES, ["S009", "x", "Xylophone", "Slicing", 3, 5]]
    draft = mapping_text(imported(tmp_path, book={"Sites": rows}).draft)
    assert tomllib.loads(draft)["kinds"]["Xylophone"].startswith("? ")


def test_a_question_left_in_the_draft_is_refused_until_it_is_answered(tmp_path):
    outcome = imported(tmp_path, kinds={"Floor drain": "? drain_channel"})
    assert "no site type '? drain_channel'" in "\n".join(map(str, outcome.faults))


@pytest.mark.parametrize(
    ("sheets", "words"),
    [
        ({"sites": {"sheet": "Site"}}, "mapping, sheets.sites: no sheet 'Site'; did you mean 'Sites'"),
        ({"site": {}}, "mapping, sheets: no kind of sheet 'site'; did you mean 'sites'"),
    ],
)
def test_a_mapping_to_a_sheet_that_is_not_there_is_refused(tmp_path, sheets, words):
    with pytest.raises(SwabwrightError, match=words):
        imported(tmp_path, sheets=sheets)


def test_name_and_time_zone_of_the_mapping_are_taken(tmp_path):
    plant = plant_of(imported(tmp_path, plant={"name": "Invented smokehouse", "timezone": "Europe/Dublin"}))
    assert (plant.name, plant.timezone) == ("Invented smokehouse", "Europe/Dublin")
    assert {"name", "timezone"}.isdisjoint(plant.unconfirmed)


def test_a_time_zone_that_is_none_is_refused(tmp_path):
    with pytest.raises(SwabwrightError, match="no time zone 'Dublin'"):
        imported(tmp_path, plant={"timezone": "Dublin"})
