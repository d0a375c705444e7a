"""What entries may tell besides: who took a sample, kinds of blank, expiry, objections, breaks, rooms and machines."""

import dataclasses
import json

import pytest
from builders.grounds import GROUND
from builders.statements import NUMBERS, Phone
from pydantic import ValidationError

from swabwright.record.custody import custody
from swabwright.record.entry import Entry
from swabwright.record.expiry import expired_devices
from swabwright.record.floor_rules import floor_contradictions
from swabwright.record.ground import UNKNOWN_GROUND
from swabwright.record.spelling import statement_bytes
from swabwright.record.strange_names import strange_names
from swabwright.record.values import NO_HASH
from swabwright.work.record_show import notes
from swabwright.work.record_take_in import take_in

A = NUMBERS[0]
KNOWN = dataclasses.replace(GROUND, machines=frozenset({"slicer-b"}), rooms=frozenset({"slicing"}))
ASKED = {
    "action": "floor",
    "weight": "advice",
    "legal_basis": "none",
    "condition_found": "cracked",
    "outcome_wanted": "whole",
}


def entries(*statements):
    head = {"format": "swabwright/entry", "version": 1, "previous": NO_HASH, "hash": NO_HASH}
    return [Entry(**head, number=number, statement=one) for number, one in enumerate(statements, 1)]


def said(kind, **fields):
    return Phone("phone-a").says(kind, **fields)


def test_a_sample_is_in_the_hand_of_who_took_it_not_of_who_wrote_it_down():
    found = custody(entries(Phone("phone-a").collects(A, taken_by="Bo Holm")))
    assert found.holder(A) == "Bo Holm"


def test_what_another_packed_is_packed_by_who_holds_it():
    phone = Phone("phone-a")
    taken = phone.collects(A, taken_by="Bo Holm")
    packed = phone.says("container_packed", container="K-1", samples=[A], packed_by="Bo Holm")
    assert custody(entries(taken, packed)).contents == {"K-1": (A,)}


@pytest.mark.parametrize("kind", ["field", "trip", "device_lot", "glove"])
def test_a_blank_says_of_which_kind_it_is(kind):
    taken = said("collected", sample=A, sample_kind="blank", device="SP", blank_kind=kind)
    assert taken.body.blank_kind == kind


def test_a_sample_that_is_no_blank_has_no_kind_of_blank():
    with pytest.raises(ValidationError, match="blank_kind goes with a blank only, and the sample is a surface"):
        Phone("phone-a").collects(A, blank_kind="trip")


@pytest.mark.parametrize("day", ["2026-02-30", "20260305", "05.03.2026", "2026-03"])
def test_a_device_expires_on_a_real_day_in_one_spelling(day):
    assert Phone("phone-a").collects(A, device_expires_on="2026-03-05").body.device_expires_on == "2026-03-05"
    with pytest.raises(ValidationError, match="day"):
        Phone("phone-a").collects(A, device_expires_on=day)


@pytest.mark.parametrize(("day", "noted"), [("2026-03-04", 1), ("2026-03-05", 0), (None, 0)])
def test_a_device_used_after_its_last_day_is_noted(day, noted):
    taken = entries(Phone("phone-a").collects(A, **({} if day is None else {"device_expires_on": day})))
    found = notes(taken, UNKNOWN_GROUND)
    words = f"sample {A} was taken on 2026-03-05 with a device to be used by 2026-03-04"
    assert [one.words for one in found] == [words] * noted


def test_the_day_of_use_is_the_plant_s_day():
    # Half past midnight three hours east of Greenwich is still the day before at the plant.
    when = {"device_expires_on": "2026-03-05", "taken_at": "2026-03-06T00:30:00+03:00"}
    taken = entries(Phone("phone-a").collects(A, **when))
    assert len(expired_devices(taken, UNKNOWN_GROUND)) == 1
    assert expired_devices(taken, GROUND) == ()


def test_notice_and_receipt_say_whether_the_right_to_object_was_told():
    notice = said("notice", given_to="Plant manager", legal_basis="food law", right_to_object_told=True)
    receipt = said("receipt", given_to="Plant manager", samples=[A], right_to_object_told=False, contact="Lead")
    assert (notice.body.right_to_object_told, receipt.body.right_to_object_told) == (True, False)
    assert b"right_to_object" not in statement_bytes(said("receipt", given_to="Plant manager", samples=[A]))


@pytest.mark.parametrize("fields", [{"of": "line"}, {"of": "team", "line": "slicing"}])
def test_the_break_of_a_line_names_its_line_and_that_of_the_team_none(fields):
    with pytest.raises(ValidationError, match="the break of a line names its line"):
        said("break", **fields)


@pytest.mark.parametrize(("ends", "told"), [("09:00:01", 1), ("08:50:00", 0), ("11:00:00", 0), (None, 0)])
def test_a_stop_seen_before_a_break_of_the_line_ends_is_over_with_it(ends, told):
    phone = Phone("phone-a")
    seen = phone.says("stop_seen", line="slicing", stopped_by="Shift lead", seen_by="Ada Lind")
    over = {} if ends is None else {"ends_at": f"2026-03-05T{ends}+01:00"}
    broken = phone.says("break", of="line", line="slicing", **over)
    taken = phone.says("collected", sample=A, sample_kind="surface", site="S004", device="SP")
    assert len(floor_contradictions(entries(seen, broken, taken), GROUND)) == told


def test_a_break_of_the_team_ends_no_stop():
    phone = Phone("phone-a")
    seen = phone.says("stop_seen", line="slicing", stopped_by="Shift lead", seen_by="Ada Lind")
    pause = phone.says("break", of="team", ends_at="2026-03-05T09:00:02+01:00")
    taken = phone.says("collected", sample=A, sample_kind="surface", site="S004", device="SP")
    assert floor_contradictions(entries(seen, pause, taken), GROUND) == ()


@pytest.mark.parametrize(
    ("named", "words"),
    [
        ({"machine": "slicer-x"}, "plant.json has no machine slicer-x (its machines: slicer-b)"),
        ({"room": "slicng"}, "plant.json has no room slicng (its rooms: slicing)"),
    ],
)
def test_an_action_at_a_machine_or_room_that_the_plant_has_not_is_noted(named, words):
    asked = entries(said("action_asked", **ASKED, **named))
    assert [one.words for one in strange_names(asked, KNOWN)] == [words]
    assert strange_names(asked, UNKNOWN_GROUND) == ()


def test_an_action_at_a_known_machine_and_room_needs_no_note():
    assert strange_names(entries(said("action_asked", **ASKED, machine="slicer-b", room="slicing")), KNOWN) == ()


def test_taking_in_tells_names_that_the_plant_has_not_once(tmp_path):
    (tmp_path / "investigation.json").write_text("{}")
    phone, file = Phone("phone-a"), tmp_path / "phone-a.jsonl"
    file.write_bytes(statement_bytes(phone.notes()))
    taken = take_in(tmp_path, file, None, GROUND)
    assert taken.sentence.splitlines()[1].startswith("Note on entry 1: plant.json has no site S014; if it is a slip")
    file.write_bytes(statement_bytes(phone.says("marks", site="S001", marks=["wet"])))
    assert take_in(tmp_path, file, None, GROUND).notes == ()


def test_an_entry_written_before_these_fields_is_read_and_spelled_as_it_was():
    old = {"kind": "collected", "sample": A, "sample_kind": "blank", "device": "SP"}
    statement = said("collected", **{name: value for name, value in old.items() if name != "kind"})
    told = json.loads(statement_bytes(statement))["body"]
    assert told == {**old, "opened_up": False, "surface_state": []}
