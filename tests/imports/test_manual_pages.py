"""The manual's pages on the import say what the import does."""

import re
import tomllib
from pathlib import Path

from swabwright.plant.imports.mapping import ImportMapping
from swabwright.plant.imports.vocabulary import load_vocabulary
from swabwright.plant.registry import load_catalogue, load_figures

PAGE = (Path(__file__).parents[2] / "docs" / "reference" / "mapping-file.md").read_text(encoding="utf-8")
WORDS = load_vocabulary(load_figures())


def test_the_example_of_the_mapping_file_is_one():
    example = re.search(r"```toml\n(.*?)```", PAGE, re.DOTALL)
    assert example is not None
    mapping = ImportMapping.model_validate(tomllib.loads(example.group(1)))
    assert mapping.kinds["Gully"] in load_catalogue().site_types


def test_every_sheet_and_field_stands_on_the_page():
    fields = {field.id for role in WORDS.roles() for field in WORDS.sheet(role).fields}
    assert [word for word in {*WORDS.roles(), *fields} if f"`{word}`" not in PAGE] == []


def test_every_kind_of_layer_stands_on_the_page():
    assert [role for role in WORDS.layers() if f"`{role}`" not in PAGE] == []


def test_every_part_of_the_mapping_stands_on_the_page():
    assert [part for part in ImportMapping.model_fields if f"{part}" not in PAGE] == []
