"""What the example that goes all the way holds: every kind of entry, two strains, actions, three rounds."""

from collections import Counter
from pathlib import Path

import pytest

from swabwright.case.folder import read_case
from swabwright.record.course import actions
from swabwright.record.journal import read_record
from swabwright.record.results import current_results, isolates_now
from swabwright.reports.banned import banned_phrases
from swabwright.work.show_results import shown_results

CASE = Path(__file__).parents[2] / "examples" / "juniper-lane-to-the-end"
DAIRY = CASE.parent / "fernhill-dairy"
ENTRIES = read_record(CASE)
BODIES = [entry.statement.body for entry in ENTRIES]

SHOWN_BY = {
    "collected": "every sample of five visits",
    "not_taken": "aprons in the laundry, a guard left on",
    "added_by_judgement": "standing water under slicer B, the crack of the thaw room, a table's fold",
    "photograph": "slicer B wide and close, a seal",
    "marks": "the walk-through of visits 1 and 2",
    "counted": "devices, gloves and labels, out and in",
    "stop_seen": "every sample that needs its line to stand",
    "hold_asked": "both lines, before zone 1",
    "hold_answered": "line B held, line A not",
    "line_stopped": "before the samples that need it",
    "line_started": "after them",
    "spill": "brine before packer B",
    "wash_down": "infeed of line A",
    "credentials_shown": "every visit",
    "notice": "every visit but the unannounced one",
    "consent": "entry, samples, photographs",
    "refusal": "photographs of the kilns",
    "receipt": "every visit",
    "companion": "the plant's own samples beside two of ours",
    "exhibit": "an interview, the log of the night before",
    "call_made": "after the screening results",
    "container_packed": "six boxes",
    "seal_set": "six seals and one anew",
    "seal_opened": "for a logger left on the table",
    "hand_over": "to the driver",
    "waybill": "to the carrier",
    "logger_data": "six files, one above 8 degrees for a while",
    "laboratory_receipt": "five",
    "report_received": "preliminary, final, amended, typing",
    "result": "every sample that was taken",
    "amended_result": "drain 6",
    "isolate": "two strains",
    "action_asked": "requirements and advice",
    "action_promised": "slicer B, drain 2, aprons",
    "action_said_done": "slicer B, the night's cleaning",
    "action_seen_done": "slicer B, drain 2",
    "plan_accepted": "five plans",
    "decision": "a second visit; not closed on a count alone",
    "copied_from_paper": "one sample of the paper sheet",
    "superseded": "a mark at the wrong site",
}


def action(name):
    return actions(ENTRIES)[name]


@pytest.mark.parametrize("kind", SHOWN_BY)
def test_the_example_shows_this_kind_of_entry(kind):
    assert any(body.kind == kind for body in BODIES)


def test_product_at_stake_was_answered_before_the_first_sample_of_every_visit():
    seen = [body.kind for body in BODIES if body.kind in ("hold_answered", "collected")]
    assert seen.index("hold_answered") < seen.index("collected")
    assert sum(body.kind == "hold_answered" for body in BODIES) == 2 * len(read_case(CASE).accepted)


def test_the_amended_result_stands_and_the_first_is_kept():
    amended = next(body for body in BODIES if body.kind == "amended_result")
    said = [body.outcome for body in BODIES if body.kind == "result" and body.sample == amended.sample]
    assert said == ["presumptive", "detected"]
    assert [one.outcome for one in current_results(ENTRIES)[amended.sample]] == ["not_detected"]


def test_the_row_that_fits_no_sample_is_held_apart():
    held = shown_results(read_case(CASE)).held_apart
    assert len(held) == 1
    assert "unknown number" in str(held[0])


def test_two_strains_live_at_two_places():
    case = read_case(CASE)
    sites = {one.sample: one.site for one in BODIES if one.kind == "collected"}
    found = {(one.strain, sites[one.sample]) for one in isolates_now(ENTRIES).values()}
    assert {site for strain, site in found if strain == "cluster 2"} == {"S083"}
    assert ("cluster 1", "S033") in found
    assert {room.id for room in case.plant.rooms} >= {"slicing-and-packing", "thaw-and-brine"}


def test_one_action_is_known_by_word_only_and_two_were_seen():
    assert action("high-care-night").seen_done_at is None
    assert action("high-care-night").said_done_at is not None
    assert action("slicer-b-opened").seen_done_at
    assert action("drain-2-joint").disturbs_site


def test_nothing_is_detected_in_three_rounds_after_the_last_action():
    last = max(filter(None, (one.seen_done_at for one in actions(ENTRIES).values())))
    rounds = [plan for plan in read_case(CASE).accepted if str(plan.visit_date) > last[:10]]
    numbers = {sample.sample_number for plan in rounds for sample in plan.samples}
    outcomes = Counter(one.outcome for number in numbers for one in current_results(ENTRIES).get(number, ()))
    assert len(rounds) == 3
    assert set(outcomes) == {"not_detected"}


def test_the_unannounced_round_had_no_notice():
    notices = [entry.statement.at[:10] for entry in ENTRIES if entry.statement.body.kind == "notice"]
    assert notices == ["2026-03-04", "2026-03-18", "2026-04-08", "2026-04-23"]


def test_nothing_is_detected_at_the_dairy():
    outcomes = {one.outcome for found in current_results(read_record(DAIRY)).values() for one in found}
    assert outcomes == {"not_detected"}


@pytest.mark.parametrize("entries", [ENTRIES, read_record(DAIRY)], ids=["smokehouse", "dairy"])
def test_nobody_in_the_examples_says_a_banned_phrase(entries):
    said = [str(value) for entry in entries for _, value in entry.statement.body if isinstance(value, str)]
    assert [found for words in said for found in banned_phrases(words)] == []
