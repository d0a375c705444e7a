"""Drawings that commands write beside their answers: of findings from a bank, of isolates, of a scan."""

import csv
import json

import pytest
from builders.cases import EXAMPLE
from builders.findings import findings_tiny, opened_tiny
from builders.laboratory import NUMBERS, bring, results_case, row
from builders.pages import words_of
from click.testing import CliRunner

from swabwright.cli.scan import scan
from swabwright.cli.strains import strains
from swabwright.errors import SwabwrightError
from swabwright.reports.findings_papers import FindingsSheet, findings_papers

pytestmark = pytest.mark.slow


SITES = {"S025": 2, "S033": 2, "S040": 0, "S042": 0, "S048": 0, "S054": 0}


def scanned(folder, *more):
    table = folder / "results.csv"
    with table.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows(
            [("site", "period", "detected", "tested"), *((s, 1, n, 2) for s, n in SITES.items())]
        )
    arguments = [str(table), "--plant", str(EXAMPLE / "plant.json"), "--rearrangements", "19", *more]
    return CliRunner().invoke(scan, arguments, catch_exceptions=False)


def typed_case(folder):
    """A case with two isolates of one strain, and the laboratory's distance between them."""
    case = results_case(folder)
    found = [row(at, "detected", Isolate=f"iso-{at}", Strain="A") for at in (0, 1)]
    bring(case, found)
    table = folder / "distances.csv"
    table.write_text(",iso-0,iso-1\niso-0,0,3\niso-1,3,0\n", encoding="utf-8")
    return case, table


def test_findings_from_a_bank_make_papers():
    opened = opened_tiny()
    found = findings_tiny((1,), (2, 3))
    made = findings_papers(FindingsSheet(found, opened.case.plant, opened.case.investigation, ()))
    assert found.sentences[1] in words_of(made["findings.pdf"])


def test_a_scan_writes_its_drawing_beside_its_answer(tmp_path):
    assert scanned(tmp_path, "--out", str(tmp_path / "out")).exit_code == 0
    assert sorted(path.name for path in (tmp_path / "out").iterdir()) == ["scan.pdf", "scan.svg"]


def test_a_scan_answers_the_same_with_and_without_a_drawing(tmp_path):
    plain, drawn = scanned(tmp_path, "--json"), scanned(tmp_path, "--json", "--out", str(tmp_path / "out"))
    assert json.loads(plain.output) == json.loads(drawn.output)


def test_isolates_are_drawn_at_the_sites_of_their_samples(tmp_path):
    case, table = typed_case(tmp_path)
    out = tmp_path / "out"
    CliRunner().invoke(strains, [str(table), "--case", str(case), "--out", str(out)], catch_exceptions=False)
    words = words_of((out / "strains.pdf").read_bytes())
    assert "iso-0, sample 1 iso-1, sample 2 3 yes" in words
    assert NUMBERS[0] not in words


def test_links_cannot_be_drawn_without_a_case(tmp_path):
    _, table = typed_case(tmp_path)
    with pytest.raises(SwabwrightError, match="name the case with --case"):
        CliRunner().invoke(strains, [str(table), "--out", str(tmp_path / "out")], catch_exceptions=False)


def test_rings_cannot_be_drawn_without_a_plant(tmp_path):
    table = tmp_path / "results.csv"
    table.write_text("site,x_m,y_m,period,detected,tested\nA,0,0,1,1,1\nB,1,0,1,0,1\nC,2,0,1,0,1\n", encoding="utf-8")
    with pytest.raises(SwabwrightError, match="name the plant document with --plant"):
        CliRunner().invoke(scan, [str(table), "--out", str(tmp_path / "out")], catch_exceptions=False)
