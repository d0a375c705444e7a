"""The acceptance of a plan as an entry: after the plan, held to its bytes, never beside a broken record."""

import pytest

from swabwright.errors import SwabwrightError
from swabwright.record.chain import RecordBroken
from swabwright.record.journal import read_record
from swabwright.record.verify import not_accepted, verify_record
from swabwright.work.record_accept import Signer, acceptance, this_computer

ADA = Signer("Ada Lind", "office-1")


def put(case, content=b"plan"):
    (case / "plans").mkdir(exist_ok=True)
    (case / "plans/visit-1.json").write_bytes(content)


def test_the_entry_holds_the_plan_to_its_bytes(tmp_path):
    with acceptance(tmp_path, "visit-1", b"plan", ADA):
        put(tmp_path)
    assert verify_record(tmp_path).plans == 1
    put(tmp_path, b"another plan")
    with pytest.raises(RecordBroken, match="entry 1: accepted plan"):
        verify_record(tmp_path)


def test_a_plan_that_could_not_be_written_is_not_entered(tmp_path):
    with pytest.raises(SwabwrightError), acceptance(tmp_path, "visit-1", b"plan", ADA):
        raise SwabwrightError("the disk is full")
    assert read_record(tmp_path) == ()


def test_beside_a_broken_record_no_plan_is_written(tmp_path):
    (tmp_path / "record.jsonl").write_text("no entry\n")
    with pytest.raises(RecordBroken), acceptance(tmp_path, "visit-1", b"plan", ADA):
        put(tmp_path)
    assert not (tmp_path / "plans").exists()


def test_a_plan_without_an_entry_is_named(tmp_path):
    put(tmp_path)
    assert not_accepted(tmp_path, read_record(tmp_path)) == ("visit-1.json",)


@pytest.mark.parametrize(("node", "device"), [("Ada's-MacBook.local", "ada-s-macbook-local"), ("", "computer")])
def test_a_computer_without_a_given_name_has_its_own(monkeypatch, node, device):
    monkeypatch.setattr("platform.node", lambda: node)
    assert this_computer("Ada Lind").device == device
