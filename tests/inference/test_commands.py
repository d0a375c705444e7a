"""The commands scan and strains, from CSV to sentence and JSON."""

import json

import pytest
from builders.console import printed

HEADING = "site,x_m,y_m,period,detected,tested\n"


@pytest.fixture
def results(tmp_path):
    rows = [f"S{n:02},{n},0,1,{3 if n < 5 else 0},3\n" for n in range(20)]
    path = tmp_path / "results.csv"
    path.write_text(HEADING + "".join(rows), "utf-8")
    return path


def test_scan_names_where_detections_stand_close(results):
    said = printed(f"swabwright scan {results}")
    assert said.startswith("15 detected of 15 at 5 sites within")
    assert "It says where, not why." in said


def test_scan_prints_json_when_asked(results):
    assert json.loads(printed(f"swabwright scan {results} --json"))["scan"]["clusters"][0]["p"] == 0.001


def test_scan_names_the_row_it_cannot_read(tmp_path):
    path = tmp_path / "results.csv"
    path.write_text(HEADING + "D1,0,0,1,none,3\n", "utf-8")
    assert printed(f"swabwright scan {path}").startswith("results.csv: row 2: needs a site")


def test_strains_prints_tree_groups_and_its_limit(tmp_path):
    path = tmp_path / "d.csv"
    path.write_text(",A,B,C\nA,0,2,9\nB,2,0,9\nC,9,9,0\n", "utf-8")
    said = printed(f"swabwright strains {path} --threshold 7")
    assert said.splitlines()[:3] == ["A - B: 2", "A - C: 9", "At 7: A B; C."]


@pytest.mark.parametrize("row", ["S1,nan,0,1,0,2", "S1,inf,0,1,0,2", "S1,0,0,1,0,2.5"])
def test_a_row_that_cannot_be_counted_is_refused(tmp_path, row):
    path = tmp_path / "results.csv"
    path.write_text(f"site,x_m,y_m,period,detected,tested\n{row}\n", encoding="utf-8")
    assert printed(f"swabwright scan {path}").startswith("results.csv: row 2: needs a site")
