"""What a source of a figure may be called: something that a reader outside can look up, or an assumption."""

import re
from pathlib import Path

import pytest

from swabwright.plant.registry import load_figures

DATA = Path(__file__).parents[2] / "src/swabwright/plant/data"
FILES = sorted(DATA.glob("*.toml"))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_no_source_names_a_paper_that_only_its_authors_have(file):
    text = file.read_text(encoding="utf-8")
    assert re.findall(r"handbook|internal note|working paper|our notes", text, re.I) == []


def test_no_unit_is_told_in_names_of_the_program():
    figures = load_figures()
    assert [name for name in figures if re.search(r"[a-z]_[a-z]", figures[name].unit)] == []
