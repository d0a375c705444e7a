"""What a source of a figure may be called: something that a reader outside can look up, or an assumption."""

import re
from pathlib import Path

import pytest

DATA = Path(__file__).parents[2] / "src/swabwright/plant/data"
FILES = sorted(DATA.glob("*.toml"))


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_no_source_names_a_paper_that_only_its_authors_have(file):
    text = file.read_text(encoding="utf-8")
    assert re.findall(r"handbook|internal note|working paper|our notes", text, re.I) == []
