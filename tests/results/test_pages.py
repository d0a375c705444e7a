"""The pages about results name every column, outcome and fact of the data, and their commands run."""

import shlex

import pytest
from builders.console import examples_of
from builders.house import ROOT
from builders.laboratory import LABORATORY, NUMBERS, add, results_case, row, write_table
from click.testing import CliRunner

from swabwright.case.call_sheet import CallSheet
from swabwright.cli.main import swabwright
from swabwright.reports.banned import banned_phrases
from swabwright.work.results_words import MEANINGS, result_words

PAGE = (ROOT / "docs/reference/results.md").read_text("utf-8")
PAGES = ("reference/results.md", "howto/read-results.md")
HEAD = [["Accession number", "L26-118"], ["Status", "final"], ["Signed by", "S. Holm"]]


@pytest.mark.parametrize("name", [*result_words().data["columns"], *MEANINGS])
def test_the_page_names_every_column_and_outcome(name):
    assert f"`{name}`" in PAGE


@pytest.mark.parametrize("field", [name for name in CallSheet.model_fields if name not in ("format", "version")])
def test_the_page_names_every_field_of_a_call_sheet(field):
    assert f"`{field}`" in PAGE


@pytest.mark.parametrize("page", PAGES)
def test_the_pages_say_nothing_that_a_result_cannot(page):
    assert banned_phrases((ROOT / "docs" / page).read_text("utf-8")) == []


@pytest.mark.parametrize("page", PAGES)
def test_the_commands_of_the_pages_run(tmp_path, monkeypatch, page):
    results_case(tmp_path)
    monkeypatch.chdir(tmp_path)
    write_table(tmp_path, [row(0, "detected"), row(2)], "results.csv", HEAD)
    (tmp_path / "signed.pdf").write_bytes(b"signed")
    for command, _ in examples_of(page):
        done = CliRunner().invoke(swabwright, shlex.split(command.replace("results.xlsx", "results.csv"))[1:])
        assert done.exit_code == 0, done.output


def test_the_laboratorys_receipt_names_it_for_the_command(tmp_path, monkeypatch):
    case = results_case(tmp_path)
    add(
        case, "laboratory_receipt", laboratory=LABORATORY, received_by="S. Holm", samples=[NUMBERS[2]], condition="cold"
    )
    write_table(tmp_path, [row(2)], "results.csv", HEAD)
    (tmp_path / "signed.pdf").write_bytes(b"signed")
    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(swabwright, ["results", "import", "case", "results.csv", "--report", "signed.pdf"])
    assert done.output.startswith(f"Report L26-118 of {LABORATORY}, final, authorised by S. Holm.\nTaken in: 1 result")
