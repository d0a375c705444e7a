"""Every row that does not fit the record is held apart with its reason, and never used."""

import pytest
from builders.laboratory import (
    BLANK,
    DUPLICATE,
    NOT_COLLECTED,
    NOT_TAKEN,
    NUMBERS,
    SPARE,
    add,
    bring,
    entries_of,
    results_case,
    row,
)

from swabwright.case.folder import read_case
from swabwright.case.numbers import check_character
from swabwright.record.results import current_results
from swabwright.record.sampling import Collected
from swabwright.work.results_held import held_now, open_rows
from swabwright.work.show_results import shown_results


@pytest.fixture
def case(tmp_path):
    return results_case(tmp_path)


def held(outcome):
    return [one.reason for one in outcome.held]


ONE_ROW = {
    "a wrong check character": (row("7K4M9R-3"), "unknown number: '7K4M9R-3' has a wrong check character"),
    "no number at all": (row("fridge 3"), "unknown number: 'fridge 3' is not a sample number"),
    "a number of no case": (row(f"7K4M9R-{check_character('7K4M9R')}"), "unknown number: no sample of this case"),
    "not taken": (row(NOT_TAKEN), "the record says it was not taken, because: the trolley was away"),
    "planned, not collected": (row(NOT_COLLECTED), "not collected: the number is planned"),
    "a spare number": (row(SPARE), "not collected: the number is planned"),
    "an unknown word": (row(2, "wobbly"), "unknown word 'wobbly': ask the laboratory"),
    "a word that hides a doubt": (row(2, "not detected?"), "unknown word 'not detected?'"),
    "no word": (row(2, ""), "no result is written in this row"),
    "a result that is still to come": (row(2, "in progress"), "'in progress': the laboratory has no result yet"),
    "an unknown organism": (row(2, Organism="Vibrio"), "unknown organism 'Vibrio'"),
    "analysis before collection": (row(2, Analysis_started="2026-03-05 08:00"), "dated before collection: analysis"),
    "a day of analysis before collection": (row(2, Analysis_started="2026-03-04"), "dated before collection"),
    "a date that can be read two ways": (row(2, Analysis_started="03/06/2026"), "cannot be read for sure"),
    "another site's name": (row(2, Site_name="Slicer B, blade guard"), "unmatched site name: the table says 'Slicer B"),
    "another status": (row(2, Status="preliminary"), "status 'preliminary' in a report that is final"),
    "colonies beside not detected": (row(2, Colonies="3", Share_plated="0.1"), "3 colonies beside 'not detected'"),
    "half a colony": (row(2, "detected", Colonies="1.5"), "is no whole number of colonies"),
    "more plated than there is": (row(2, "detected", Colonies="3", Share_plated="2"), "is not between 0 and 1"),
    "a count without end": (row(2, "detected", Colonies="inf"), "is no whole number of colonies"),
    "a pick that is no number": (row(2, "detected", Isolate="I-1", Pick="nan"), "is no whole number from 1 to 999"),
    "a method longer than a page": (row(2, Method="m" * 401), "method has more than 400 characters"),
    "a count in words": (row(2, "detected", Colonies="many"), "'many' is no number"),
    "an isolate of nothing": (row(2, Isolate="I-1"), "isolate I-1 of a sample that is 'not detected'"),
    "a strain without isolate": (row(2, "detected", Strain="ST9"), "strain 'ST9' without the isolate"),
}  # fmt: skip


@pytest.mark.parametrize(("bad", "reason"), ONE_ROW.values(), ids=ONE_ROW)
def test_a_row_that_does_not_fit_is_held_apart_with_its_reason(case, bad, reason):
    outcome = bring(case, [bad, row(3)])
    assert len(outcome.held) == 1
    assert reason in outcome.held[0].reason
    assert set(current_results(entries_of(case))) == {NUMBERS[3]}


def test_a_withdrawn_sample_keeps_its_result_out(case):
    taken = next(one for one in entries_of(case) if isinstance(one.statement.body, Collected))
    add(case, "superseded", entry=taken.statement.id, reason="the lid was off")
    assert held(bring(case, [row(0)])) == ["the sample was withdrawn from the record, because: the lid was off"]


def test_contradictory_duplicates_are_both_held_apart(case):
    outcome = bring(case, [row(2), row(2, "detected")])
    assert held(outcome) == ["contradictory duplicate: the table says 'detected' and 'not detected' of this sample"] * 2
    assert current_results(entries_of(case)) == {}


def test_a_duplicate_that_says_the_same_is_taken_once(case):
    outcome = bring(case, [row(2), row(2)])
    assert outcome.taken == (NUMBERS[2],)
    assert "it says the same" in held(outcome)[0]


def test_isolates_of_one_sample_are_no_duplicates(case):
    outcome = bring(case, [row(2, "detected", Isolate="I-1"), row(2, "detected", Isolate="I-2", Strain="ST9")])
    assert (outcome.isolates, outcome.held) == (2, ())


def test_a_second_final_report_changes_nothing(case):
    bring(case, [row(2)])
    outcome = bring(case, [row(2, "detected")], accession="L26-119")
    assert "different report: the sample has its result from report L26-118" in held(outcome)[0]
    assert current_results(entries_of(case))[NUMBERS[2]][0].outcome == "not_detected"


def test_an_amended_report_without_a_first_waits_for_it(case):
    assert "amended without a first" in held(bring(case, [row(2)], status="amended"))[0]


def test_analysis_that_started_late_is_taken_in_and_flagged(case):
    outcome = bring(case, [row(2, Analysis_started="2026-03-09 08:00")])
    assert outcome.taken == (NUMBERS[2],)
    assert "later than the rulebook's 48; whether the result is valid is the laboratory's word" in outcome.flags[0]


def test_a_detected_blank_is_taken_in_and_says_what_it_does_to_the_others(case):
    outcome = bring(case, [row(BLANK, "detected"), row(DUPLICATE)])
    assert "Every detection of it weighs less" in outcome.flags[0]


def test_the_record_tells_the_rows_that_are_held_apart(case):
    outcome = bring(case, [row(2, "wobbly"), row(3)])
    assert held_now(case, entries_of(case)) == outcome.held


def test_a_held_row_that_fits_later_is_taken_in_and_no_longer_told(case):
    rows = [row(NOT_COLLECTED), row(3)]
    bring(case, rows)
    add(case, "collected", sample=NUMBERS[NOT_COLLECTED], sample_kind="surface", device="SP", site="S054", zone=3)
    outcome = bring(case, rows)
    assert (outcome.taken, outcome.already) == ((NUMBERS[NOT_COLLECTED],), (NUMBERS[3],))
    assert held_now(case, entries_of(case)) == ()


def test_a_held_row_is_told_with_its_reason_of_now(case):
    rows = [row(NOT_COLLECTED), row(3)]
    bring(case, rows)
    add(case, "not_taken", sample=NUMBERS[NOT_COLLECTED], reason="the hose was gone")
    bring(case, rows)
    (now,) = held_now(case, entries_of(case))
    assert now.reason == "the record says it was not taken, because: the hose was gone"


def test_a_row_that_an_amended_report_itself_leaves_open_is_not_told_as_amended_since(case):
    bring(case, [row(3)])
    bring(case, [row(3), row("7K4M9R-3", "detected")], "amended", reported_at="2026-03-11")
    (now,) = held_now(case, entries_of(case))
    assert "amended since" not in now.reason


def test_a_held_row_near_food_asks_for_a_call_to_the_laboratory(case):
    outcome = bring(case, [row(0, "wobbly"), row(3, "wobbly")])
    assert len(outcome.urgent) == 1
    assert f"RING THE LABORATORY about sample {NUMBERS[0]}" in outcome.urgent[0]


def test_a_detection_that_fits_no_sample_asks_for_a_call_to_the_laboratory(case):
    outcome = bring(case, [row("7K4M9R-3", "detected"), row("7K4M9R-3")])
    assert len(outcome.urgent) == 1
    assert "Nobody can tell which sample it is" in outcome.urgent[0]


def test_a_held_row_says_when_its_report_was_amended_since(case):
    bring(case, [row("7K4M9R-3", "detected")])
    bring(case, [row(3, "detected")], "amended", reported_at="2026-03-11")
    assert held_now(case, entries_of(case))[0].reason.endswith("(the report was amended since)")


def test_a_row_of_a_later_report_that_is_held_leaves_its_sample_without_a_valid_result(case):
    bring(case, [row(3), row(5)])
    bring(case, [row(3, "wobbly")], "amended", reported_at="2026-03-11")
    assert list(open_rows(case, entries_of(case))) == [NUMBERS[3]]
    shown = {one.sample: one.held for one in shown_results(read_case(case)).samples}
    assert "wobbly" in shown[NUMBERS[3]]
    assert shown[NUMBERS[5]] is None


def test_a_report_that_speaks_of_the_sample_later_resolves_it(case):
    bring(case, [row(3)])
    bring(case, [row(3, "wobbly")], "amended", reported_at="2026-03-11")
    bring(case, [row(3, "detected")], "amended", reported_at="2026-03-12")
    assert open_rows(case, entries_of(case)) == {}
    assert held_now(case, entries_of(case))[0].reason.endswith("(the report was amended since)")


def test_a_report_that_says_nothing_of_a_held_sample_does_not_resolve_it(case):
    bring(case, [row(3), row(5)])
    bring(case, [row(3, "wobbly")], "amended", reported_at="2026-03-11")
    bring(case, [row(5, "detected")], "amended", reported_at="2026-03-12")
    (now,) = held_now(case, entries_of(case))
    assert "amended since" not in now.reason
    assert list(open_rows(case, entries_of(case))) == [NUMBERS[3]]
