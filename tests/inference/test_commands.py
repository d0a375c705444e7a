"""The commands scan and strains, from CSV to sentence and JSON."""

import json

import pytest
from builders.console import example_in_help, printed
from builders.statements import NUMBERS, Phone

from swabwright.cli.strains import strains
from swabwright.record.journal import open_journal

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


MATCHES = "isolate,patients,method,distance,wording\n"


@pytest.fixture
def distances(tmp_path):
    path = tmp_path / "d.csv"
    path.write_text(",A,B,P1\nA,0,2,1\nB,2,0,1\nP1,1,1,0\n", "utf-8")
    return path


def test_an_isolate_of_a_patient_joins_no_tree_and_no_group(distances):
    said = printed(f"swabwright strains {distances} --threshold 1 --patient P1")
    assert said.splitlines()[:3] == ["A - B: 2", "At 1: A; B.", "Isolates of patients, in no tree and no group: P1."]


def test_a_match_keeps_its_patients_out_of_the_tree(distances):
    matches = distances.with_name("m.csv")
    matches.write_text(f"{MATCHES}A,P1,SNP typing,1 SNP,same cluster\n", "utf-8")
    said = printed(f"swabwright strains {distances} --threshold 1 --matches {matches}")
    assert "At 1: A; B." in said
    assert "A: Found in the plant; same strain as 1 isolate from a patient by SNP typing, 1 SNP" in said


def test_a_match_of_an_unknown_isolate_is_named(distances):
    matches = distances.with_name("m.csv")
    matches.write_text(f"{MATCHES}AB,P1,SNP typing,1 SNP,same cluster\n", "utf-8")
    said = printed(f"swabwright strains {distances} --matches {matches}")
    assert said.startswith("m.csv: AB: no such isolate of the plant in the distances; did you mean")


def test_a_patient_who_is_not_in_the_table_is_named(distances):
    assert printed(f"swabwright strains {distances} --patient P2").startswith("patients: no isolate 'P2'")


@pytest.fixture
def case(tmp_path):
    """A case whose record names isolate A by its name and isolate C by its sequence identifier."""
    phone = Phone("phone-a")
    picked = {"sample": NUMBERS[0], "organism": "L. monocytogenes", "held_by": "Laboratory", "storage": "-80 C"}
    with open_journal(tmp_path) as journal:
        journal.add(phone.says("isolate", isolate="A", pick=1, **picked))
        journal.add(phone.says("isolate", isolate="another", pick=2, sequence_identifier="C", **picked))
    return tmp_path


def test_what_the_record_does_not_name_is_held_apart(distances, case):
    said = printed(f"swabwright strains {distances} --threshold 9 --patient P1 --case {case}")
    assert said.startswith("At 9: A.\nHeld apart, because the record does not name them: B.\n")


def test_the_record_names_an_isolate_by_its_sequence_too(case):
    table = case / "pairs.csv"
    table.write_text("one,other,distance\nA,C,3\n", "utf-8")
    said = printed(f"swabwright strains {table} --long --threshold 9 --case {case}")
    assert said.startswith("A - C: 3\nAt 9: A C.\nA distance alone")


def test_a_match_of_an_isolate_that_is_held_apart_is_not_said(distances, case):
    matches = distances.with_name("m.csv")
    matches.write_text(f"{MATCHES}B,P1,SNP typing,1 SNP,same cluster\n", "utf-8")
    said = printed(f"swabwright strains {distances} --matches {matches} --case {case}")
    assert "Held apart, because the record does not name them: B." in said
    assert "same cluster" not in said


def test_repeats_are_tested_with_their_source(distances):
    said = json.loads(printed(f"swabwright strains {distances} --repeats A 2 2 0.1 'a survey' --json"))["strains"]
    assert said["persistence"][0]["chance"] == pytest.approx(0.01)
    assert said["persistence"][0]["of"]["reference_source"] == "a survey"


def test_repeats_alone_need_no_distances():
    said = printed("swabwright strains --repeats A 2 2 0.1 'a survey' --repeats B 1 2 0.5 'a survey'")
    assert [line[:18] for line in said.splitlines()] == ["A: 2 of 2 isolates", "B: 1 of 2 isolates"]


@pytest.mark.parametrize("asked", ["", "--threshold 3", "--repeats A 2 2 0.1 survey --patient P1"])
def test_anything_else_without_distances_is_refused(asked):
    assert printed(f"swabwright strains {asked}").startswith("give the laboratory's table of distances")


def test_the_example_of_the_help_runs(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "distances.csv").write_text(",A,B\nA,0,2\nB,2,0\n", "utf-8")
    said = printed(example_in_help(strains.help))
    assert said.startswith("A - B: 2\nAt 7: A B.\n")
    assert "A: 4 of 5 isolates" in said


@pytest.mark.parametrize("row", ["S1,nan,0,1,0,2", "S1,inf,0,1,0,2", "S1,0,0,1,0,2.5"])
def test_a_row_that_cannot_be_counted_is_refused(tmp_path, row):
    path = tmp_path / "results.csv"
    path.write_text(f"site,x_m,y_m,period,detected,tested\n{row}\n", encoding="utf-8")
    assert printed(f"swabwright scan {path}").startswith("results.csv: row 2: needs a site")
