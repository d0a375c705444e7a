"""What the entries say together: samples, results beside their amendments, actions, the course line."""

import pytest
from builders.statements import NUMBERS, Phone

from swabwright.record.course import actions, course
from swabwright.record.journal import open_journal, read_record
from swabwright.record.rules import EntryRefused, check_new
from swabwright.record.samples import samples

A, B = NUMBERS[:2]
RESULT = {"sample": A, "organism": "Listeria monocytogenes", "method": "culture", "report": "1" * 64}
ASKED = {"weight": "requirement", "legal_basis": "local code", "condition_found": "cracked floor"}


@pytest.fixture
def told(tmp_path):
    """Entries of statements given as (kind, fields), all of one phone."""

    def tell(*said):
        phone = Phone("phone-a")
        with open_journal(tmp_path) as journal:
            journal.add_all([phone.says(kind, **fields) for kind, fields in said])
        return read_record(tmp_path)

    return tell


def taken(sample):
    return "collected", {"sample": sample, "sample_kind": "surface", "zone": 3, "device": "SP"}


def statement_id(number):
    phone = Phone("phone-a")
    return [phone.notes() for _ in range(number)][-1].id


def test_a_sample_that_was_not_taken_keeps_its_reason(told):
    story = samples(told(("not_taken", {"sample": A, "reason": "line would not stop"})))[A]
    assert (story.collected, story.not_taken[0].reason) == ([], "line would not stop")


def test_an_amended_result_stands_beside_the_first(told):
    first = ("result", {**RESULT, "outcome": "detected"})
    amended = {**RESULT, "outcome": "no_valid_result", "amends": statement_id(2), "reason": "mixed up"}
    story = samples(told(taken(A), first, ("amended_result", amended)))[A]
    assert [one.outcome for one in story.results] == ["detected", "no_valid_result"]


def test_a_list_of_samples_joins_the_story_of_each(told):
    entries = told(taken(A), taken(B), ("receipt", {"samples": [A, B], "given_to": "Plant manager"}))
    assert [samples(entries)[sample].entries for sample in (A, B)] == [[1, 3], [2, 3]]


def test_an_action_said_done_is_not_one_seen_done(told):
    asked = ("action_asked", {"action": "floor", "outcome_wanted": "no standing water", **ASKED})
    story = actions(told(asked, asked, ("action_said_done", {"action": "floor", "said_by": "Plant manager"})))["floor"]
    assert (len(story.asked_at), story.said_done_at is None, story.seen_done_at) == (2, False, None)


def test_an_action_that_disturbs_its_site_is_remembered(told):
    seen = {"action": "floor", "seen_by": "Ada Lind"}
    entries = told(("action_seen_done", {**seen, "disturbs_site": True}), ("action_seen_done", seen))
    assert actions(entries)["floor"].disturbs_site


def test_what_was_seen_done_holds_before_what_was_said_or_asked(told):
    asked = ("action_asked", {"action": "floor", "outcome_wanted": "a new floor", **ASKED, "kind_of_action": "other"})
    seen = {"action": "floor", "seen_by": "Ada Lind", "kind_of_action": "replaced_or_rebuilt"}
    said = {"action": "floor", "said_by": "Plant manager", "kind_of_action": "surface_cleaning"}
    story = actions(told(asked, ("action_seen_done", seen), ("action_said_done", said)))["floor"]
    assert story.kind_of_action == "replaced_or_rebuilt"


def test_an_action_was_done_when_it_was_done_not_when_it_was_entered(told):
    seen = {"action": "floor", "seen_by": "Ada Lind", "done_at": "2026-03-04T10:00:00+00:00"}
    assert actions(told(("action_seen_done", seen)))["floor"].seen_done_at == "2026-03-04T10:00:00+00:00"


def test_the_course_line_keeps_the_first_moment_of_each_knot(told):
    plan = ("plan_accepted", {"visit": "visit-1", "plan": "1" * 64})
    close = ("decision", {"about": "close", "words": "as agreed", "signed_by": "Lead"})
    found = course(told(plan, taken(A), taken(B), close))
    assert [(one.knot, one.entry) for one in found] == [("Planned", 1), ("Sampled", 2), ("Decision to close", 4)]


@pytest.mark.parametrize(
    ("kind", "fields", "words"),
    [
        ("superseded", {"entry": "0" * 32, "reason": "wrong"}, "nothing to supersede"),
        ("superseded", {"entry": statement_id(1), "reason": "wrong"}, "entry 1 is superseded already"),
        ("superseded", {"entry": statement_id(2), "reason": "wrong"}, "entry 2 supersedes another"),
    ],
)
def test_what_cannot_be_superseded_is_said(told, kind, fields, words):
    entries = told(taken(A), ("superseded", {"entry": statement_id(1), "reason": "wrong number"}))
    with pytest.raises(EntryRefused, match=words):
        check_new(entries, Phone("phone-b").says(kind, **fields))


def test_a_copy_from_paper_needs_the_entry_it_copies(told):
    file = {"sha256": "1" * 64, "ending": "jpg", "size_bytes": 1}
    fields = {"entry": "0" * 32, "copied_by": "Ada Lind", "written_at": "2026-03-05T09:00:00+01:00", "file": file}
    with pytest.raises(EntryRefused, match="enter first what stands on the sheet"):
        check_new(told(), Phone("phone-b").says("copied_from_paper", **fields))
