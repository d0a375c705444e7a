"""Isolates are samples too: one hand at a time, containers, receipts, and no discarding without a written release."""

import pytest
from builders.statements import NUMBERS, Phone
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from swabwright.record.carriage import carriages
from swabwright.record.concerning import concerning
from swabwright.record.custody import custody
from swabwright.record.entry import Entry
from swabwright.record.rules import EntryRefused, check_new
from swabwright.record.spelling import statement_bytes
from swabwright.record.values import NO_HASH, IsolateRef
from swabwright.work.record_show import record_document, record_lines

A, B = NUMBERS[:2]
PICK = {"isolate": "L-9-1", "sample": A}
OTHER = {"isolate": "L-9-1", "sample": B}
TOLD = {"pick": 1, "organism": "Listeria monocytogenes", "held_by": "State laboratory", "storage": "frozen"}
FOUND = ("isolate", {**PICK, **TOLD})
GIVEN = {"giver": "State laboratory", "taker": "Reference laboratory", "purpose": "typing"}
ON = ("hand_over", {**GIVEN, "isolates": [PICK]})
PACKED = ("container_packed", {"container": "K-2", "isolates": [PICK], "packed_by": "State laboratory"})
CARRIED = {"container": "K-2", "carrier": "Carrier", "waybill": "W2", "seal": "S2", "given_by": "State laboratory"}
RECEIVED = {"laboratory": "Reference laboratory", "received_by": "Fay Oka", "condition": "frozen", "isolates": [PICK]}
RELEASED = ("isolate_released", {"isolates": [PICK], "released_by": "Lead", "words": "case closed on 1 March"})
DISCARDED = ("isolate_discarded", {"isolates": [PICK], "discarded_by": "State laboratory"})
REF = IsolateRef(**PICK)


def entries(*said):
    """Entries of (kind, fields), in this order."""
    phone = Phone("phone-a")
    statements = [phone.says(kind, **fields) for kind, fields in said]
    head = {"format": "swabwright/entry", "version": 1, "previous": NO_HASH, "hash": NO_HASH}
    return [Entry(**head, number=number, statement=one) for number, one in enumerate(statements, 1)]


def refusal(before, said):
    """Why the desk refuses the entry; empty when it does not."""
    try:
        check_new(entries(*before), Phone("office-1").says(said[0], **said[1]))
    except EntryRefused as refused:
        return str(refused)
    return ""


def holders(*said):
    return [hand.holder for hand in custody(entries(*said)).isolates[REF]]


def test_the_first_hand_of_an_isolate_is_who_holds_it_as_it_is_entered():
    assert holders(FOUND) == ["State laboratory"]


def test_a_hand_over_moves_an_isolate_and_keeps_every_hand():
    assert holders(FOUND, ON) == ["State laboratory", "Reference laboratory"]


def test_isolates_of_one_name_and_two_samples_are_two_isolates():
    found = custody(entries(FOUND, ("isolate", {**OTHER, **TOLD}), ON)).isolates
    assert [len(found[REF]), len(found[IsolateRef(**OTHER)])] == [2, 1]


def test_a_hand_over_of_an_isolate_that_nobody_entered_names_it():
    assert f"isolate L-9-1 of sample {A} is not in the record; enter isolate first" in refusal([], ON)


def test_a_hand_over_of_an_isolate_by_who_does_not_hold_it_names_who_does():
    words = refusal([FOUND, ON], ON)
    assert f"isolate L-9-1 of sample {A} is not with State laboratory: Reference laboratory holds it" in words


@pytest.mark.parametrize("taker", ["", "  ", "State laboratory"])
def test_an_isolate_is_not_handed_to_nobody_or_to_oneself(taker):
    with pytest.raises(ValidationError):
        entries(("hand_over", {**GIVEN, "taker": taker, "isolates": [PICK]}))


@pytest.mark.parametrize("empty", [PACKED, ("laboratory_receipt", RECEIVED), ON])
def test_an_empty_list_of_isolates_is_nothing(empty):
    kind, fields = empty
    with pytest.raises(ValidationError):
        entries((kind, {**fields, "isolates": []}))


def test_a_second_hand_for_an_isolate_is_refused_and_what_a_phone_said_of_it_told():
    elsewhere = ("isolate", {**PICK, **TOLD, "held_by": "Second laboratory"})
    assert "is not with Second laboratory: State laboratory holds it" in refusal([FOUND], elsewhere)
    found = custody(entries(FOUND, elsewhere))
    assert [one.entry for one in found.contradictions] == [2]
    assert found.isolates[REF][-1].holder == "State laboratory"


def test_typing_told_later_by_who_gave_it_on_moves_nothing():
    later = ("isolate", {**PICK, **TOLD, "strain": "cluster 4"})
    assert refusal([FOUND, ON], later) == ""
    assert holders(FOUND, ON, later)[-1] == "Reference laboratory"


def test_a_container_takes_isolates_along_to_the_laboratory_s_receipt():
    sent = ("waybill", CARRIED)
    received = ("laboratory_receipt", RECEIVED)
    assert holders(FOUND, PACKED, sent, received) == ["State laboratory", "Carrier", "Reference laboratory"]
    found = custody(entries(FOUND, PACKED, sent, received))
    assert (found.contradictions, found.notes, found.lies_in, found.contents["K-2"]) == ((), (), {}, ())


def test_a_packed_isolate_is_handed_over_with_its_container_only():
    assert "lies in container K-2; hand over the container" in refusal([FOUND, PACKED], ON)
    with_it = ("hand_over", {**GIVEN, "containers": ["K-2"]})
    assert refusal([FOUND, PACKED], with_it) == ""


def test_an_isolate_is_packed_by_who_holds_it_and_once():
    by_another = ("container_packed", {**PACKED[1], "packed_by": "Ada Lind"})
    assert "is not with Ada Lind: State laboratory holds it" in refusal([FOUND], by_another)
    assert "lies in container K-2 already" in refusal([FOUND, PACKED], PACKED)


def test_a_receipt_of_an_isolate_nobody_entered_or_received_twice_is_refused():
    received = ("laboratory_receipt", RECEIVED)
    assert "cannot have received it" in refusal([], received)
    assert "was received by a laboratory already" in refusal([FOUND, received], received)


def test_an_isolate_may_go_on_to_a_second_laboratory_with_its_own_receipt():
    on = {**GIVEN, "giver": "Reference laboratory", "taker": "Second laboratory", "isolates": [PICK]}
    second = ("laboratory_receipt", {**RECEIVED, "laboratory": "Second laboratory"})
    assert refusal([FOUND, ("laboratory_receipt", RECEIVED), ("hand_over", on)], second) == ""


def test_a_receipt_of_an_isolate_without_a_hand_over_is_noted():
    (note,) = custody(entries(FOUND, ("laboratory_receipt", RECEIVED))).notes
    assert note.words.startswith(f"isolate L-9-1 of sample {A}: no hand-over to Reference laboratory and no waybill")


def test_a_container_of_isolates_is_no_journey_of_samples():
    assert carriages(entries(FOUND, PACKED, ("waybill", CARRIED))) == ()


def test_an_isolate_is_not_discarded_before_its_written_release():
    assert "has no written release in the record; enter isolate_released first" in refusal([FOUND], DISCARDED)
    assert refusal([FOUND, RELEASED], DISCARDED) == ""


def test_the_release_that_stands_with_the_isolate_counts():
    assert refusal([("isolate", {**FOUND[1], "release": "letter of 1 March"})], DISCARDED) == ""


def test_a_release_of_an_isolate_that_nobody_entered_is_refused():
    assert "enter isolate before Lead releases it" in refusal([], RELEASED)


def test_only_who_holds_it_discards_it_and_nobody_holds_it_after():
    assert "Reference laboratory holds it" in refusal([FOUND, RELEASED, ON], DISCARDED)
    gone = [FOUND, RELEASED, DISCARDED]
    assert "was discarded (entry 3)" in refusal(gone, ON)
    assert "was discarded (entry 3)" in refusal(gone, DISCARDED)
    assert "was discarded (entry 3)" in refusal(gone, ("laboratory_receipt", RECEIVED))


def test_a_release_that_was_superseded_releases_nothing():
    said = entries(FOUND, RELEASED)
    undone = Phone("phone-b").says("superseded", entry=said[1].statement.id, reason="withdrawn")
    said.append(said[0].model_copy(update={"number": 3, "statement": undone}))
    with pytest.raises(EntryRefused, match="no written release"):
        check_new(said, Phone("office-1").says(*DISCARDED[:1], **DISCARDED[1]))


def test_show_tells_the_hands_of_an_isolate_and_its_end():
    said = entries(FOUND, RELEASED, DISCARDED)
    (line,) = [one for one in record_lines(said) if one.startswith("Isolate ")]
    assert line.startswith(f"Isolate L-9-1 of sample {A}: State laboratory since 2026-03-05")
    assert line.endswith(", then discarded (entry 3)")


def test_the_isolates_of_a_sample_are_told_with_it_alone():
    said = entries(FOUND, ("isolate", {**OTHER, **TOLD}), PACKED, ("waybill", CARRIED))
    (told,) = record_document(said, A)["isolates"]
    assert ([one["entry"] for one in told["hands"]], told["discarded_by_entry"]) == ([1, 4], None)
    assert concerning(said, A) == {1, 3, 4}


def test_a_statement_without_isolates_is_spelled_as_before_they_could_be_named():
    handed = Phone("phone-a").says("hand_over", **GIVEN, samples=[A])
    assert b"isolates" not in statement_bytes(handed)


@settings(deadline=None, derandomize=True, max_examples=60)
@given(st.lists(st.sampled_from([FOUND, ON, PACKED, ("waybill", CARRIED), RELEASED, DISCARDED]), max_size=9))
def test_whatever_is_said_an_isolate_is_in_one_hand_and_ends_at_most_once(said):
    found = custody(entries(*said))
    wrong = {one.entry for one in found.contradictions}
    moved = [number for number, (kind, _) in enumerate(said, 1) if kind in MOVES and number not in wrong]
    hands = [hand.entry for hand in found.isolates.get(REF, ())]
    assert hands == sorted(set(hands))
    assert set(hands) <= set(moved)
    assert all(entry < found.discarded[REF] for entry in hands) if found.discarded else True


MOVES = ("isolate", "hand_over", "waybill")
