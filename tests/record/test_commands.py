"""`swabwright record add`, `show` and `verify`, as a person uses them."""

import json
import shutil
from pathlib import Path

import pytest
from builders.cases import EXAMPLE
from builders.statements import NUMBERS
from click.testing import CliRunner

from swabwright.case.folder import read_case
from swabwright.cli.main import swabwright
from swabwright.errors import SwabwrightError
from swabwright.record.journal import read_record
from swabwright.work.record_ground import read_ground

WHO = ("--by", "Ada Lind", "--on", "office-1", "--at", "2026-03-05T09:30:00+01:00")


@pytest.fixture
def case(tmp_path):
    (tmp_path / "investigation.json").write_text("{}")
    return tmp_path


def run(*arguments):
    result = CliRunner().invoke(swabwright, ["record", *map(str, arguments)])
    if isinstance(result.exception, SwabwrightError):
        return str(result.exception)
    assert result.exit_code == 0, result.output
    return result.output


def add(case, kind, *options, **fields):
    return run("add", case, kind, json.dumps(fields), *WHO, *options)


def collect(case, sample=NUMBERS[0]):
    return add(case, "collected", sample=sample, sample_kind="surface", site="S014", zone=3, device="SP")


def test_an_entry_is_acknowledged_with_its_number_and_the_hash_of_the_record(case):
    assert collect(case).startswith("Entered: entry 1. Hash of the record now: ")
    assert read_record(case)[0].statement.by == "Ada Lind"


def test_an_unknown_kind_names_the_near_one(case):
    assert "did you mean 'hand_over'" in add(case, "hand_overs")


def test_an_unknown_field_is_named(case):
    assert "smaple" in add(case, "not_taken", smaple=NUMBERS[0], reason="wet")
    assert read_record(case) == ()


def test_a_number_with_a_wrong_check_character_is_refused(case):
    wrong = NUMBERS[0][:-1] + ("2" if NUMBERS[0][-1] != "2" else "3")
    assert "wrong check character" in collect(case, wrong)


def test_a_quantity_that_is_no_whole_number_is_refused(case):
    said = add(case, "collected", sample=NUMBERS[0], sample_kind="surface", device="SP", area_mm2=0.5)
    assert "area_mm2" in said


def test_a_time_without_offset_is_refused(case):
    said = run("add", case, "marks", "{}", *WHO[:-1], "2026-03-05T09:30:00")
    assert "at: '2026-03-05T09:30:00' has a wrong form; allowed is a date and a time with its offset" in said


@pytest.mark.parametrize(
    ("taker", "says"),
    [
        ({}, "taker: is missing; write it"),
        ({"taker": ""}, "taker: must not be blank"),
        ({"taker": "Ada Lind"}, "hand_over: Ada Lind cannot hand over to themselves; name who takes it"),
    ],
)
def test_a_hand_over_to_nobody_is_refused_in_words(case, taker, says):
    collect(case)
    said = add(case, "hand_over", giver="Ada Lind", samples=[NUMBERS[0]], purpose="transport", **taker)
    assert (said.endswith(says), len(read_record(case))) == (True, 1)


def test_a_file_is_kept_under_its_hash(case, tmp_path):
    report = tmp_path / "report.PDF"
    report.write_bytes(b"invented report")
    add(case, "exhibit", "--file", report, exhibit="E1", what="other", words="a report")
    kept = case / "files" / read_record(case)[0].statement.body.file.name
    assert (kept.read_bytes(), kept.suffix) == (b"invented report", ".pdf")


def test_a_photograph_of_a_seal_comes_along_with_its_entry(case, tmp_path):
    picture = tmp_path / "seal.jpg"
    picture.write_bytes(b"invented picture")
    add(case, "seal_set", "--file", picture, container="K-1", seal="7")
    (kept,) = read_record(case)[0].statement.body.photographs
    assert (case / "files" / kept.name).read_bytes() == b"invented picture"


def test_no_file_is_kept_when_another_one_is_missing(case, tmp_path):
    picture = tmp_path / "seal.jpg"
    picture.write_bytes(b"invented picture")
    missing = {"sha256": "0" * 64, "ending": "jpg", "size_bytes": 1}
    seal = {"container": "K-1", "seal": "7", "photographs": [missing]}
    assert "no file files/000" in add(case, "seal_set", "--file", picture, **seal)
    assert (read_record(case), (case / "files").exists()) == ((), False)


def test_a_file_that_is_not_in_the_case_is_refused(case):
    file = {"sha256": "0" * 64, "ending": "jpg", "size_bytes": 1}
    assert "no file files/000" in add(case, "photograph", file=file, view="wide", shows="a drain")
    assert read_record(case) == ()


def test_a_hand_over_by_who_does_not_hold_it_is_refused(case):
    collect(case)
    said = add(case, "hand_over", giver="Bo Holm", taker="Cy Moe", samples=[NUMBERS[0]], purpose="transport")
    assert f"sample {NUMBERS[0]} is not with Bo Holm: Ada Lind holds it" in said
    assert len(read_record(case)) == 1


def test_a_result_needs_its_report_and_is_changed_by_an_amended_report_only(case, tmp_path):
    collect(case)
    result = {"sample": NUMBERS[0], "outcome": "detected", "organism": "Listeria monocytogenes", "method": "culture"}
    assert "no report with the hash" in add(case, "result", report="1" * 64, **result)
    digest = report(case, tmp_path, "final")
    add(case, "result", report=digest, **result)
    assert "only an amended report changes it" in add(case, "result", report=digest, **result)
    first = read_record(case)[-1].statement.id
    assert "is not an amended one" in add(case, "amended_result", report=digest, amends=first, reason="x", **result)
    again = report(case, tmp_path, "amended")
    assert "Entered" in add(case, "amended_result", report=again, amends=first, reason="mixed up", **result)


def report(case, folder, status):
    file = folder / f"{status}.pdf"
    file.write_text(status)
    fields = {"laboratory": "State laboratory", "accession": "1", "status": status, "authorised_by": "Di Roe"}
    add(case, "report_received", "--file", file, **fields)
    return read_record(case)[-1].statement.body.file.sha256


def test_the_record_shows_entries_and_hands(case):
    collect(case)
    add(case, "hand_over", giver="Ada Lind", taker="Cy Moe", samples=[NUMBERS[0]], purpose="transport")
    said = run("show", case)
    assert "Ada Lind on office-1: collected: sample" in said
    assert f"Sample {NUMBERS[0]}: Ada Lind since 2026-03-05T09:30:00+01:00, then Cy Moe since" in said
    assert len(json.loads(run("show", case, "--json"))["hands"][NUMBERS[0]]) == 2


def test_verify_says_what_is_whole_or_names_the_first_fault(case):
    collect(case)
    assert run("verify", case).startswith("Whole: 1 entry of 1 device")
    file = case / "record.jsonl"
    file.write_text(file.read_text().replace("S014", "S015"))
    assert "entry 1: hash of the entry: expected" in run("verify", case)
    assert "entry 1: hash of the entry: expected" in collect(case)


def test_verify_tells_of_bytes_without_a_line_end(case):
    collect(case)
    file = case / "record.jsonl"
    file.write_bytes(file.read_bytes()[:-1])
    assert "bytes without a line end" in run("verify", case)


def test_adding_tells_where_a_torn_end_was_put(case):
    collect(case)
    with (case / "record.jsonl").open("ab") as file:
        file.write(b"half")
    said = add(case, "marks", site="S014", marks=["wet"])
    (torn,) = case.glob("record.torn-*")
    assert f"Note: bytes of an entry that was never acknowledged were moved into {torn.name}." in said


def test_half_a_character_is_refused_and_nothing_written(case):
    said = run("add", case, "marks", '{"site": "S014", "marks": ["\\ud800"]}', *WHO)
    assert said.startswith("entry:")
    assert read_record(case) == ()


def test_the_record_notes_a_receipt_that_nobody_handed_over_for(case):
    collect(case)
    add(case, "laboratory_receipt", laboratory="Lab", received_by="Cy Moe", samples=[NUMBERS[0]], condition="cold")
    assert f"Note on entry 2: sample {NUMBERS[0]}: no hand-over to Lab and no waybill" in run("show", case)
    assert json.loads(run("show", case, "--json"))["notes"][0]["entry"] == 2


def test_a_case_without_a_plant_says_what_was_not_checked(case):
    collect(case)
    assert "were not held against the record: the case has no plant.json" in run("show", case)
    assert "no plant.json" in json.loads(run("show", case, "--json"))["not_checked"]


@pytest.fixture
def smokehouse(tmp_path):
    return Path(shutil.copytree(EXAMPLE, tmp_path / "case"))


def sample_of(site, **fields):
    return {"sample": NUMBERS[0], "sample_kind": "surface", "site": site, "device": "SP", **fields}


def test_the_ground_of_a_plant_knows_lines_of_machines_visits_and_time_zone(smokehouse):
    found, case = read_ground(smokehouse), read_case(smokehouse)
    lines = {one.id: one.line for one in case.plant.equipment}
    assert {code: asks.line for code, asks in found.sites.items()} == {
        site.code: site.line or lines.get(site.equipment) for site in case.plant.sites
    }
    limits = case.investigation.visits[0].limits
    assert (found.visits[0], str(found.zone)) == ((limits.starts_at, limits.ends_at), case.plant.timezone)


def site_where(case, wanted):
    return next(code for code, asks in sorted(read_ground(case).sites.items()) if wanted(asks))


def test_a_zone_1_site_of_a_plant_waits_for_its_own_line(smokehouse):
    site = site_where(smokehouse, lambda asks: asks.zone == 1 and asks.line and not asks.as_is.needs_line_stop)
    line = read_ground(smokehouse).sites[site].line
    assert f"product of line {line} is held" in add(smokehouse, "collected", **sample_of(site, zone=1))
    assert read_record(smokehouse) == ()
    add(smokehouse, "hold_answered", line=line, answered_by="Plant manager", answer="held")
    assert "Entered: entry 2" in add(smokehouse, "collected", **sample_of(site, zone=1))


def test_a_site_of_a_plant_that_needs_isolation_waits_for_it(smokehouse):
    site = site_where(smokehouse, lambda asks: asks.zone > 1 and asks.line and asks.opened.needs_isolation)
    line = read_ground(smokehouse).sites[site].line
    assert "no stop_seen says so" in add(smokehouse, "collected", **sample_of(site, opened_up=True))
    seen = {"stopped_by": "Shift lead", "isolated_by": "Mechanic", "seen_by": "Ada Lind"}
    add(smokehouse, "stop_seen", line=line, site=site, **seen)
    assert "Entered: entry 2" in add(smokehouse, "collected", **sample_of(site, opened_up=True))
    assert "Contradiction" not in run("show", smokehouse)


@pytest.mark.parametrize(
    ("kind", "fields", "says"),
    [
        ("marks", {"site": "S999", "marks": ["wet"]}, "Note: plant.json has no site S999; if it is a slip, supersede"),
        ("line_stopped", {"line": "line-aa"}, "Note: plant.json has no line line-aa (its lines: line-a, line-b)."),
    ],
)
def test_a_name_that_the_plant_does_not_hold_is_entered_and_noted(smokehouse, kind, fields, says):
    assert says in add(smokehouse, kind, **fields)
    assert says.replace("Note: ", "Note on entry 1: ") in run("show", smokehouse)


def test_names_of_the_plant_are_not_noted(smokehouse):
    assert "Note" not in add(smokehouse, "stop_seen", line="line-a", site="S014", stopped_by="Lead", seen_by="Ada Lind")


def test_a_plant_that_cannot_be_read_keeps_no_hand_over_out_and_the_record_in_view(smokehouse):
    (smokehouse / "plant.json").write_text("{}", "utf-8")
    assert "plant.json" in add(smokehouse, "collected", **sample_of("S014"))
    assert "Entered: entry 1" in add(smokehouse, "marks", site="S014", marks=["wet"])
    assert "were not held against the record: plant.json" in run("show", smokehouse)
