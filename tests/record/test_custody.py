"""Custody as a fold: one hand at a time, refusals name sample and holder, contradictions are told and kept."""

import pytest
from builders.statements import NUMBERS, Phone
from pydantic import ValidationError

from swabwright.record.custody import custody
from swabwright.record.journal import open_journal, read_record
from swabwright.record.rules import EntryRefused, check_new
from swabwright.record.seals import containers

A, B = NUMBERS[:2]
LAB = {"laboratory": "State laboratory", "received_by": "Cy Moe", "condition": "cold, dry"}


@pytest.fixture
def record(tmp_path):
    """Adds statements and returns every entry so far."""

    def add(*statements):
        with open_journal(tmp_path) as journal:
            journal.add_all(statements)
        return read_record(tmp_path)

    return add


def refusal(entries, statement):
    with pytest.raises(EntryRefused) as caught:
        check_new(entries, statement)
    return str(caught.value)


def hand(phone, giver, taker, **what):
    return phone.says("hand_over", giver=giver, taker=taker, purpose="transport", **what)


def test_a_sample_is_in_the_hand_of_who_collected_it(record):
    assert custody(record(Phone("phone-a").collects(A))).holder(A) == "Ada Lind"


def test_a_hand_over_moves_the_sample_and_keeps_every_hand(record):
    phone = Phone("phone-a")
    found = custody(record(phone.collects(A), hand(phone, "Ada Lind", "Bo Holm", samples=[A])))
    assert [one.holder for one in found.hands[A]] == ["Ada Lind", "Bo Holm"]


@pytest.mark.parametrize("taker", ["", "   ", "Ada Lind"])
def test_a_hand_over_to_nobody_or_to_oneself_is_refused(taker):
    with pytest.raises(ValidationError):
        hand(Phone("phone-a"), "Ada Lind", taker, samples=[A])


def test_a_hand_over_of_nothing_is_refused():
    with pytest.raises(ValidationError, match="names no sample and no container"):
        hand(Phone("phone-a"), "Ada Lind", "Bo Holm")


def test_a_hand_over_by_who_does_not_hold_it_names_sample_and_holder(record):
    phone = Phone("phone-a")
    words = refusal(record(phone.collects(A)), hand(phone, "Bo Holm", "Cy Moe", samples=[A]))
    assert f"sample {A} is not with Bo Holm: Ada Lind holds it since" in words


def test_a_hand_over_of_what_was_not_collected_is_refused(record):
    words = refusal(record(), hand(Phone("phone-a"), "Ada Lind", "Bo Holm", samples=[A]))
    assert f"sample {A} has not been collected" in words


def test_collecting_a_number_twice_is_refused_with_its_holder(record):
    entries = record(Phone("phone-a").collects(A))
    assert "was collected already (entry 1); Ada Lind holds it" in refusal(entries, Phone("phone-b").collects(A))


def test_two_hands_at_once_from_two_phones_are_kept_and_told(record):
    first, second = Phone("phone-a"), Phone("phone-b", by="Bo Holm")
    found = custody(record(first.collects(A), second.collects(A)))
    assert found.holder(A) == "Ada Lind"
    assert [one.entry for one in found.contradictions] == [2]


def test_a_container_takes_its_samples_along(record):
    phone = Phone("phone-a")
    record(phone.collects(A), phone.collects(B), phone.says("container_packed", container="box 1", samples=[A, B]))
    sent = phone.says("waybill", container="box 1", carrier="Carrier", waybill="W1", seal="S1", given_by="Ada Lind")
    found = custody(record(sent))
    assert {found.holder(A), found.holder(B)} == {"Carrier"}


def test_a_packed_sample_is_handed_over_with_its_container_only(record):
    phone = Phone("phone-a")
    entries = record(phone.collects(A), phone.says("container_packed", container="box 1", samples=[A]))
    words = refusal(entries, hand(phone, "Ada Lind", "Bo Holm", samples=[A]))
    assert f"sample {A} lies in container box 1; hand over the container" in words


def test_an_empty_container_cannot_be_handed_over(record):
    words = refusal(record(), hand(Phone("phone-a"), "Ada Lind", "Bo Holm", containers=["box 1"]))
    assert "container box 1 has no samples in the record" in words


def test_the_laboratory_holds_what_it_received_once(record):
    phone = Phone("phone-a")
    entries = record(phone.collects(A), phone.says("laboratory_receipt", samples=[A], **LAB))
    assert custody(entries).holder(A) == "State laboratory"
    again = phone.says("laboratory_receipt", samples=[A], **LAB)
    assert "was received by a laboratory already" in refusal(entries, again)


def notes_of(record, *before):
    phone = Phone("phone-a")
    record(phone.collects(A), *(phone.says(kind, **fields) for kind, fields in before))
    return custody(record(phone.says("laboratory_receipt", samples=[A], **LAB))).notes


PACKED = ("container_packed", {"container": "box 1", "samples": [A]})
SENT = {"container": "box 1", "carrier": "Carrier", "waybill": "W1", "seal": "S1", "given_by": "Ada Lind"}
HANDED = {"giver": "Ada Lind", "purpose": "analysis", "samples": [A]}


def test_a_receipt_without_a_hand_over_is_noted_with_who_held_the_sample(record):
    (note,) = notes_of(record)
    assert (note.entry, note.words.split("; ")[0]) == (
        2,
        f"sample {A}: no hand-over to State laboratory and no waybill is in the record",
    )
    assert "Ada Lind held it since" in note.words
    assert custody(record()).contradictions == ()


@pytest.mark.parametrize(
    "before",
    [
        [("hand_over", {**HANDED, "taker": "State laboratory"})],
        [("hand_over", {**HANDED, "taker": "Cy Moe"})],
        [PACKED, ("waybill", SENT)],
    ],
)
def test_a_receipt_after_a_hand_over_to_the_laboratory_or_a_waybill_needs_no_note(record, before):
    assert notes_of(record, *before) == ()


@pytest.mark.parametrize(
    "before",
    [
        [("hand_over", {**HANDED, "taker": "Driver"})],
        [
            PACKED,
            ("waybill", SENT),
            ("hand_over", {**HANDED, "giver": "Carrier", "taker": "Driver", "samples": [], "containers": ["box 1"]}),
        ],
    ],
)
def test_a_last_hand_that_is_not_the_laboratory_s_is_noted(record, before):
    (note,) = notes_of(record, *before)
    assert "Driver held it since" in note.words


def test_a_zone_1_sample_waits_for_the_answer_about_product(record):
    phone = Phone("phone-a")
    zone_1 = {"sample": A, "sample_kind": "surface", "site": "S001", "zone": 1, "device": "SP"}
    assert "nobody has answered whether product is held; enter" in refusal(record(), phone.says("collected", **zone_1))
    other = Phone("phone-b")
    entries = record(other.says("refusal", of="hold", refused_by="Plant manager", words="not held"))
    check_new(entries, Phone("phone-c").says("collected", **zone_1))


def test_superseding_a_hand_that_others_rest_on_is_refused(record):
    phone = Phone("phone-a")
    first = phone.collects(A)
    entries = record(first, hand(phone, "Ada Lind", "Bo Holm", samples=[A]))
    words = refusal(entries, phone.says("superseded", entry=first.id, reason="wrong number"))
    assert "then entry 2 would be wrong" in words


def test_a_superseded_entry_no_longer_moves_a_sample(record):
    phone = Phone("phone-a")
    first = phone.collects(A)
    found = custody(record(first, phone.says("superseded", entry=first.id, reason="wrong number")))
    assert found.holder(A) is None


def seal(phone, number):
    return phone.says("seal_set", container="box 1", seal=number)


def seen(phone, number, *, intact=True):
    found = [{"container": "box 1", "seal": number, "intact": intact}]
    return phone.says("laboratory_receipt", samples=[A], seals=found, **LAB)


@pytest.mark.parametrize(("found", "intact", "same"), [("S1", True, True), ("S2", True, False), ("S1", False, False)])
def test_seals_of_both_ends_are_compared(record, found, intact, same):
    phone = Phone("phone-a")
    entries = record(phone.collects(A), seal(phone, "S1"), seen(phone, found, intact=intact))
    assert containers(entries)["box 1"].same_at_both_ends is same


def test_an_opened_seal_is_an_incident_told_as_facts(record):
    phone = Phone("phone-a")
    record(seal(phone, "S1"))
    opened = {"seal": "S1", "opened_by": "Customs", "why": "inspection", "samples_counted": 2}
    record(phone.says("seal_opened", container="box 1", **opened))
    facts = containers(record(seal(phone, "S2")))["box 1"]
    assert (facts.incidents, facts.seal) == (1, "S2")
    said = "seal S1 opened by Customs: inspection; no witness entered; no photograph entered; 2 samples counted"
    assert said in facts.facts[1]


def test_the_seal_on_a_waybill_is_told_beside_the_one_set_last(record):
    phone = Phone("phone-a")
    entries = record(phone.collects(A), seal(phone, "S2"), phone.says("waybill", **SENT))
    assert containers(entries)["box 1"].facts[1].endswith("seal S1 on waybill W1; set last: S2")
