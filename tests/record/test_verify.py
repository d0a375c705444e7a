"""Verifying a record: every kind of damage is named by entry, what, expected and found."""

import json

import pytest
from builders.statements import NUMBERS, Phone

from swabwright.case.canonical import bytes_hash
from swabwright.record.chain import RecordBroken
from swabwright.record.journal import RECORD_FILE, open_journal
from swabwright.record.verify import verify_record

PHOTO, PLAN = b"an invented photograph", b'{"invented": "plan"}'


@pytest.fixture
def case(tmp_path):
    """A case with three entries of two phones, one photograph and one accepted plan."""
    (tmp_path / "files").mkdir()
    (tmp_path / "plans").mkdir()
    (tmp_path / "files" / f"{bytes_hash(PHOTO)}.jpg").write_bytes(PHOTO)
    (tmp_path / "plans" / "visit-1.json").write_bytes(PLAN)
    a, b = Phone("phone-a"), Phone("phone-b")
    file = {"sha256": bytes_hash(PHOTO), "ending": "jpg", "size_bytes": len(PHOTO)}
    with open_journal(tmp_path) as journal:
        journal.add(a.says("plan_accepted", visit="visit-1", plan=bytes_hash(PLAN)))
        journal.add(b.collects(NUMBERS[0]))
        journal.add(a.says("photograph", file=file, view="wide", shows="the drain"))
    return tmp_path


def fault(case, head=None):
    with pytest.raises(RecordBroken) as caught:
        verify_record(case, head)
    return caught.value


def edit(case, number, change):
    lines = (case / RECORD_FILE).read_text().splitlines(keepends=True)
    lines[number - 1] = change(lines[number - 1])
    (case / RECORD_FILE).write_text("".join(lines))


def test_a_whole_record_is_counted(case):
    found = verify_record(case)
    assert (found.entries, found.files, found.plans, found.devices) == (3, 1, 1, ("phone-a", "phone-b"))


@pytest.mark.parametrize("number", [1, 2, 3])
def test_a_changed_word_is_named_with_its_entry(case, number):
    edit(case, number, lambda line: line.replace("Ada Lind", "Ada Lund"))
    found = fault(case)
    assert (found.entry, found.what) == (number, "hash of the entry")


@pytest.mark.parametrize("number", [1, 2])
def test_an_entry_left_out_is_named(case, number):
    edit(case, number, lambda line: "")
    found = fault(case)
    assert (found.entry, found.what, found.expected, found.found) == (number, "number", str(number), str(number + 1))


def test_a_whole_record_written_anew_differs_from_the_hash_noted_down(case):
    head = verify_record(case).head
    edit(case, 3, lambda line: "")
    assert fault(case, head).what == "hash noted down earlier"


def test_other_spelling_of_the_same_values_is_named(case):
    edit(case, 2, lambda line: json.dumps(json.loads(line)) + "\n")
    assert (fault(case).entry, fault(case).what) == (2, "spelling")


def test_a_line_that_is_no_json_is_named(case):
    edit(case, 2, lambda line: "no entry\n")
    assert (fault(case).entry, fault(case).what) == (2, "text")


def test_an_unknown_field_is_named(case):
    edit(case, 2, lambda line: line.replace('"by":', '"buy":'))
    assert (fault(case).entry, fault(case).what) == (2, "statement.by")


def test_a_field_that_is_gone_is_named_without_advice_to_write_it(case):
    edit(case, 2, lambda line: line.replace('"by":', '"bx":'))
    assert str(fault(case)) == "record.jsonl: entry 2: statement.by: expected a valid value, found nothing"


def test_a_missing_file_is_named(case):
    next((case / "files").iterdir()).unlink()
    assert "entry 3: file files/" in str(fault(case))
    assert fault(case).found == "no such file"


def test_a_swapped_file_is_named_with_both_hashes(case):
    next((case / "files").iterdir()).write_bytes(b"another")
    assert fault(case).expected == f"SHA-256 {bytes_hash(PHOTO)}"
    assert fault(case).found == f"SHA-256 {bytes_hash(b'another')}"


def test_a_plan_changed_after_acceptance_is_named(case):
    (case / "plans" / "visit-1.json").write_bytes(PLAN + b" ")
    assert (fault(case).entry, fault(case).what) == (1, "accepted plan plans/visit-1.json")


def test_entries_that_changed_places_are_named(case):
    lines = (case / RECORD_FILE).read_text().splitlines(keepends=True)
    (case / RECORD_FILE).write_text("".join([lines[0], lines[2], lines[1]]))
    assert (fault(case).entry, fault(case).expected, fault(case).found) == (2, "2", "3")
