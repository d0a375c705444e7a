"""The pages of scan and strains: the worked examples print what the page says."""

import re

import pytest
from builders.console import examples_of, printed
from builders.house import ROOT

TABLE = re.compile(r"```csv\n(.*?)```", re.DOTALL)


@pytest.mark.parametrize(
    ("page", "files"), [("scan", ["results.csv", "round.csv"]), ("strains", ["distances.csv", "matches.csv"])]
)
def test_the_worked_examples_print_what_the_page_says(page, files, tmp_path, monkeypatch):
    tables = TABLE.findall((ROOT / "docs" / "reference" / f"{page}.md").read_text("utf-8"))
    for file, table in zip(files, tables, strict=True):
        (tmp_path / file).write_text(table, "utf-8")
    (tmp_path / "examples").symlink_to(ROOT / "examples")
    monkeypatch.chdir(tmp_path)
    for command, says in examples_of(f"reference/{page}.md"):
        assert printed(command) == says
