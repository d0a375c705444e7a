"""What `record show` says: every kind in words with units, one sample's way, and the folds as data."""

import json
import shlex

import pytest
from builders.console import example_in_help
from builders.statements import NUMBERS, Phone
from click.testing import CliRunner

from swabwright.cli.main import swabwright
from swabwright.record.concerning import concerning
from swabwright.record.entry import KINDS
from swabwright.record.journal import open_journal, read_record
from swabwright.work.record_show import record_document, record_lines

A, B, C = NUMBERS[:3]
ASKED = {"weight": "advice", "legal_basis": "none", "condition_found": "cracked", "outcome_wanted": "whole"}
HANDED = {"giver": "Ada Lind", "taker": "Bo Holm", "containers": ["K-1"], "purpose": "transport"}


@pytest.fixture
def told(tmp_path):
    """Entries of what one phone says."""
    phone = Phone("phone-a")

    def tell(*said):
        with open_journal(tmp_path) as journal:
            journal.add_all([phone.says(kind, **fields) for kind, fields in said])
        return read_record(tmp_path)

    return tell


def taken(sample, **fields):
    return "collected", {"sample": sample, "sample_kind": "surface", "device": "SP", "zone": 3, **fields}


def packed(*samples):
    return "container_packed", {"container": "K-1", "samples": list(samples)}


def last_line(entries):
    return next(line for line in record_lines(entries) if line.startswith(f"{len(entries):>5}"))


def test_quantities_are_said_with_their_units(told):
    fields = {"area_mm2": 90000, "mass_mg": 500, "surface_temperature_tenths_c": 84, "opened_up": True}
    said = last_line(told(taken(A, **fields)))
    assert "area 900 cm², mass 0.5 g, surface temperature 8.4 °C, opened up yes" in said


def test_a_sample_that_was_not_taken_says_because(told):
    said = last_line(told(("not_taken", {"sample": A, "reason": "the line would not stop"})))
    assert f"not taken, because: the line would not stop; sample {A}" in said


def test_an_entry_about_another_names_it_by_its_number(told):
    first = told(taken(A))[0].statement.id
    said = last_line(told(("superseded", {"entry": first, "reason": "wrong label"})))
    assert said.endswith("superseded, because: wrong label; entry 1")


def test_words_of_people_are_never_cut(told):
    words = "no pictures of the slicer " * 20
    assert words in last_line(told(("refusal", {"of": "photographs", "refused_by": "Manager", "words": words})))


def test_choices_are_said_without_underscores(told):
    said = last_line(told(("hold_answered", {"line": "line_a", "answered_by": "Manager", "answer": "not_held"})))
    assert "line line_a, answered by Manager, answer not held" in said


def test_one_sample_is_shown_with_its_container_s_seals_and_hands(told):
    entries = told(
        taken(A), taken(B), packed(A), ("seal_set", {"container": "K-1", "seal": "7"}), ("hand_over", HANDED)
    )
    assert (concerning(entries, A), concerning(entries, B)) == ({1, 3, 4, 5}, {2})


def test_a_later_journey_of_the_container_is_another_sample_s(told):
    received = {"laboratory": "Lab", "received_by": "Di Roe", "samples": [A], "condition": "cold"}
    again = ("seal_set", {"container": "K-1", "seal": "8"})
    entries = told(taken(A), taken(B), packed(A), ("laboratory_receipt", received), packed(B), again)
    assert (concerning(entries, A), concerning(entries, B)) == ({1, 3, 4}, {2, 5, 6})


def test_a_superseded_entry_of_a_sample_stays_in_its_view(told):
    first = told(taken(A))[0].statement.id
    entries = told(("superseded", {"entry": first, "reason": "wrong label"}))
    assert concerning(entries, A) == {1, 2}


def test_a_number_that_nothing_names_is_said_to_be_unknown(told):
    assert list(record_lines(told(taken(A)), C)) == [f"No entry speaks of sample {C}."]


def test_the_data_hold_results_actions_and_moments(told):
    found = record_document(told(taken(A), ("action_asked", {"action": "floor", **ASKED})))
    assert (found["results"], [one["knot"] for one in found["moments"]]) == ({}, ["Sampled", "Action asked"])
    assert found["actions"]["floor"]["seen_done_at"] is None


def test_the_data_of_one_sample_leave_the_others_out(told):
    found = record_document(told(taken(A), taken(B)), B)
    assert ([one["number"] for one in found["entries"]], list(found["hands"])) == ([2], [B])


def test_every_kind_stands_in_the_help_of_add():
    said = CliRunner().invoke(swabwright, ["record", "add", "--help"]).output
    assert [kind for kind in KINDS if kind not in said] == []


@pytest.fixture
def case(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "CASE").mkdir()
    (tmp_path / "CASE/investigation.json").write_text("{}")
    (tmp_path / "photographs").mkdir()
    rows = "".join(f"2026-03-05 14:{minute:02d},4.0\n" for minute in range(0, 30, 5))
    (tmp_path / "logger.csv").write_text(f"Unit,C\n\nDate time,Temperature\n{rows}")
    return tmp_path / "CASE"


def run(*arguments):
    result = CliRunner().invoke(swabwright, [str(one) for one in arguments])
    assert result.exit_code == 0, (result.output, result.exception)
    return result.output


@pytest.mark.parametrize("name", ["add", "logger", "show", "verify"])
def test_the_example_in_the_help_runs(case, name):
    example = example_in_help(run("record", name, "--help"))
    done = CliRunner().invoke(swabwright, shlex.split(example)[1:])
    assert done.exit_code == 0, (done.output, done.exception)


def test_an_entry_is_named_by_its_number_at_the_desk(case):
    who = ("--by", "Ada Lind", "--on", "office-1")
    run("record", "add", "CASE", "marks", '{"site": "S014", "marks": ["wet"]}', *who)
    run("record", "add", "CASE", "superseded", '{"entry": 1, "reason": "wrong site"}', *who)
    first, second = read_record(case)
    assert second.statement.body.entry == first.statement.id


def test_a_number_that_the_record_does_not_have_is_refused(case):
    fields = '{"entry": 4, "reason": "wrong site"}'
    result = CliRunner().invoke(swabwright, ["record", "add", "CASE", "superseded", fields, "--by", "Ada", "--on", "a"])
    assert "entry: the record has no entry 4" in str(result.exception)
    assert read_record(case) == ()


def test_what_was_entered_is_told_as_data(case):
    wet = '{"site": "S014", "marks": ["wet"]}'
    done = json.loads(run("record", "add", "CASE", "marks", wet, "--by", "Ada", "--on", "a", "--json"))
    assert done == {"entry": 1, "hash": read_record(case)[0].hash, "notes": []}
