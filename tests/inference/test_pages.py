"""The pages of scan and strains: the worked example prints what the page says."""

import re

import pytest
from builders.console import examples_of, printed
from builders.house import ROOT


@pytest.mark.parametrize(("page", "file"), [("scan", "results.csv"), ("strains", "distances.csv")])
def test_the_worked_example_prints_what_the_page_says(page, file, tmp_path, monkeypatch):
    text = (ROOT / "docs" / "reference" / f"{page}.md").read_text("utf-8")
    (tmp_path / file).write_text(re.search(r"```csv\n(.*?)```", text, re.DOTALL)[1], "utf-8")
    monkeypatch.chdir(tmp_path)
    (command, says), *_ = examples_of(f"reference/{page}.md")
    assert printed(command) == says
