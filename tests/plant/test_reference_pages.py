"""The reference pages and published schemas say what the data files say."""

import importlib.util
import json
from pathlib import Path

import pytest
from builders.plant_text import tiny_document
from pydantic import ValidationError

from swabwright.plant.document import Plant
from swabwright.plant.registry import load_catalogue
from swabwright.plant.schema import document_schema, known_fields

DOCS = Path(__file__).parents[2] / "docs"
SPEC = importlib.util.spec_from_file_location("make_reference", DOCS / "make_reference.py")
REFERENCE = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(REFERENCE)
PAGES = REFERENCE.pages()


@pytest.mark.parametrize("name", sorted(PAGES))
def test_a_page_is_up_to_date(name) -> None:
    stored = (DOCS / "reference" / name).read_text(encoding="utf-8")
    assert stored == PAGES[name], "out of date: run python docs/make_reference.py"


def test_every_site_type_stands_on_its_page() -> None:
    assert all(f"`{kind}`" in PAGES["site-types.md"] for kind in load_catalogue().site_types)


def test_an_unconfirmed_figure_carries_its_asterisk_and_a_confirmed_one_does_not() -> None:
    rules = {
        line.split("|")[1].strip(): line.split("|")[2].strip()
        for line in PAGES["rulebook.md"].splitlines()
        if line.startswith("|")
    }
    assert rules["hours_after_line_start"] == "3*"
    assert rules["clearance_rounds"] == "3"


def test_every_cell_of_every_table_row_is_there() -> None:
    for name, page in PAGES.items():
        tables = [block for block in page.split("\n\n") if block.startswith("| ")]
        assert name.endswith(".json") or tables
        assert all(len({line.count(" |") for line in table.splitlines()}) == 1 for table in tables)


def test_pages_are_written_below_the_folder_given(tmp_path) -> None:
    assert {str(path.relative_to(tmp_path)) for path in REFERENCE.write(tmp_path)} == set(PAGES)


def test_the_published_schema_names_every_field_of_the_plant() -> None:
    published = json.loads((DOCS / "reference/schemas/plant.schema.json").read_text(encoding="utf-8"))
    assert set(published["properties"]) == set(Plant.model_fields)
    assert published["additionalProperties"] is False


def test_the_schema_requires_what_reading_requires() -> None:
    for field in document_schema(Plant)["required"]:
        document = tiny_document()
        del document[field]
        with pytest.raises(ValidationError, match=field):
            Plant.model_validate_json(json.dumps(document))


@pytest.mark.parametrize(("path", "field"), [
    ((), "rooms"), (("sites", 14), "room"), (("lines", 0, "lots", 1), "made_on"), (("sites", 0, "stop"), "mechanic"),
])  # fmt: skip
def test_known_fields_are_found_at_any_depth(path, field) -> None:
    assert field in known_fields(Plant, path)


@pytest.mark.parametrize("path", [("sites", "room"), ("base", 0), ("nothing",)])
def test_where_no_object_may_stand_no_field_is_known(path) -> None:
    assert known_fields(Plant, path) == ()


def rows_of(part):
    section = PAGES["plant-document.md"].split(f"\n## {part}\n")[1].split("\n## ")[0]
    return {line.split("|")[1].strip(): line.split("|")[2:4] for line in section.splitlines() if line.startswith("| `")}


def test_the_page_marks_exactly_the_fields_that_must_be_written() -> None:
    marked = {name.rstrip("*").strip("`") for name in rows_of("Plant") if name.endswith("*")}
    assert marked == set(document_schema(Plant)["required"])


@pytest.mark.parametrize(("part", "field", "kind"), [
    ("Site", "`zone`*", "whole number, from 1, to 4"),
    ("Site", "`position`*", "point `[x, y]`"),
    ("Site", "`stop`", "Stop (below) or nothing"),
    ("Door", "`joins`*", "pair of text"),
    ("Door", "`barrier`", "`none` or `boots` or `full_change`"),
    ("Line", "`runs`*", "list of Period (below), at least 1"),
    ("Lot", "`made_on`*", "date"),
    ("Plant", "`unconfirmed`", "names with a text each"),
])  # fmt: skip
def test_the_page_says_what_stands_in_a_field(part, field, kind) -> None:
    assert rows_of(part)[field][0].strip() == kind


@pytest.mark.parametrize("part", ["Site", "Stop", "Line", "Room"])
def test_the_fields_that_decide_a_plan_are_explained(part) -> None:
    silent = [name for name, (_, meaning) in rows_of(part).items() if not meaning.strip()]
    assert set(silent) <= {"`id`*", "`name`*", "`temperature_c`*"}
