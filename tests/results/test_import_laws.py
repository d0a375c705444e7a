"""Laws of taking results in: twice is once, the order does not matter, all or nothing."""

from itertools import permutations

import pytest
from builders.laboratory import NUMBERS, add, bring, entries_of, results_case, row
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.record.laboratory import ReportReceived, Result
from swabwright.record.results import current_results, isolates_now
from swabwright.record.verify import verify_record

NOON = "2026-03-11 12:00"
REPORTS = {
    "preliminary": ("preliminary", [row(0, "suspect"), row(2)], "2026-03-07 09:00"),
    "final": ("final", [row(0, "detected"), row(2), row(3)], "2026-03-09 12:00"),
    "amended": ("amended", [row(0, "detected"), row(2, "detected")], "2026-03-11 12:00"),
    "amended again": ("amended", [row(2, "no valid result")], "2026-03-12 12:00"),
}  # fmt: skip


def standing(case):
    current = current_results(entries_of(case))
    return {number: [(one.organism, one.outcome, one.status) for one in of] for number, of in current.items()}


def bring_all(case, names):
    for name in names:
        status, rows, reported_at = REPORTS[name]
        bring(case, rows, status, reported_at=reported_at)


@pytest.fixture(scope="module")
def in_order(tmp_path_factory):
    case = results_case(tmp_path_factory.mktemp("in-order"))
    bring_all(case, REPORTS)
    return standing(case)


@pytest.mark.parametrize("order", list(permutations(REPORTS))[::3], ids=" then ".join)
def test_the_order_of_reports_does_not_matter_once_each_was_read_again(tmp_path, order, in_order):
    case = results_case(tmp_path)
    bring_all(case, [*order, *order])
    assert standing(case) == in_order


def test_the_latest_amended_word_stands(in_order):
    said = {number: told[0][1:] for number, told in in_order.items()}
    assert said == {
        NUMBERS[0]: ("detected", "amended"),
        NUMBERS[2]: ("no_valid_result", "amended"),
        NUMBERS[3]: ("not_detected", "final"),
    }


@given(st.permutations([row(0, "detected"), row(1), row(2, "wobbly"), row(3, "suspect"), row(4, "void"), row("X")]))
@settings(deadline=None, derandomize=True, max_examples=6)
def test_the_order_of_rows_does_not_matter(tmp_path_factory, rows):
    case = results_case(tmp_path_factory.mktemp("rows"))
    bring(case, rows)
    outcomes = {number: told[0][1] for number, told in standing(case).items()}
    words = {0: "detected", 1: "not_detected", 3: "presumptive", 4: "no_valid_result"}
    assert outcomes == {NUMBERS[at]: word for at, word in words.items()}


def test_the_same_report_twice_changes_nothing(tmp_path):
    case = results_case(tmp_path)
    rows = [row(0, "detected", Isolate="I-1", Strain="ST9"), row(2), row("7K4M9R-3")]
    bring(case, rows)
    before = (case / "record.jsonl").read_bytes()
    assert bring(case, rows).entries == 0
    assert (case / "record.jsonl").read_bytes() == before


def test_rows_that_a_stopped_run_left_out_are_taken_in_by_the_next(tmp_path):
    case = results_case(tmp_path)
    rows = [row(2), row(3), row(4)]
    bring(case, rows)
    lines = (case / "record.jsonl").read_bytes().splitlines(keepends=True)
    (case / "record.jsonl").write_bytes(b"".join(lines[:-1]))
    assert bring(case, rows).taken == (NUMBERS[4],)
    assert len(standing(case)) == 3


def test_the_record_and_its_files_are_whole_after_an_import(tmp_path):
    case = results_case(tmp_path)
    bring(case, [row(0, "detected"), row(2, "wobbly")])
    assert verify_record(case).files == 3


def test_a_report_that_cannot_be_read_writes_nothing(tmp_path):
    case = results_case(tmp_path)
    before = (case / "record.jsonl").read_bytes()
    with pytest.raises(SwabwrightError, match="no organism 'Vibrio'"):
        bring(case, [row(2)], organism="Vibrio")
    assert (case / "record.jsonl").read_bytes() == before
    assert not (case / "files").exists()


def test_an_amended_result_stays_beside_the_first(tmp_path):
    case = results_case(tmp_path)
    bring(case, [row(2)])
    bring(case, [row(2, "detected", Reason_for_amendment="plates read again")], "amended", reported_at="2026-03-11")
    (now,) = current_results(entries_of(case))[NUMBERS[2]]
    assert [one.body.outcome for one in now.stated] == ["not_detected", "detected"]
    assert now.latest.body.amends == now.stated[0].id


@pytest.mark.parametrize(("first", "second"), [(NOON, NOON), (None, NOON), (None, None)])
def test_amendments_that_contradict_each_other_are_named_and_neither_is_used(tmp_path, first, second):
    case = results_case(tmp_path)
    bring(case, [row(2)], reported_at="2026-03-09")
    bring(case, [row(2, "detected")], "amended", reported_at=first)
    bring(case, [row(2, "no valid result")], "amended", accession="L26-118B", reported_at=second)
    (now,) = current_results(entries_of(case))[NUMBERS[2]]
    assert now.outcome is None
    assert "nothing tells which is later; neither is used" in now.contradiction


def test_amendments_that_agree_are_no_contradiction(tmp_path):
    case = results_case(tmp_path)
    bring(case, [row(2)])
    bring(case, [row(2, "detected")], "amended", reported_at=None)
    bring(case, [row(2, "detected")], "amended", accession="L26-118B", reported_at=None)
    assert standing(case)[NUMBERS[2]][0][1:] == ("detected", "amended")


def test_a_wrong_identity_is_resolved_by_the_amended_report_alone(tmp_path):
    case = results_case(tmp_path)
    bring(case, [row("7K4M9R-3", "detected")])
    bring(case, [row(3, "detected")], "amended", reported_at="2026-03-11")
    assert standing(case) == {NUMBERS[3]: [("Listeria monocytogenes", "detected", "amended")]}


def test_two_methods_of_one_report_may_stand_beside_each_other(tmp_path):
    case = results_case(tmp_path)
    bring(case, [row(2, "presumptive", Method="screen"), row(2, "not detected", Method="culture")])
    assert standing(case)[NUMBERS[2]][0][1] == "not_detected"
    assert sum(isinstance(one.statement.body, Result) for one in entries_of(case)) == 2


def test_methods_that_contradict_each_other_are_not_used(tmp_path):
    case = results_case(tmp_path)
    bring(case, [row(2, "detected", Method="screen"), row(2, "not detected", Method="culture")])
    assert standing(case)[NUMBERS[2]][0][1] is None


def test_a_superseded_report_takes_its_results_with_it(tmp_path):
    case = results_case(tmp_path)
    bring(case, [row(2)])
    report = next(one for one in entries_of(case) if isinstance(one.statement.body, ReportReceived))
    add(case, "superseded", entry=report.statement.id, reason="of another case")
    assert standing(case) == {}


TYPED = row(2, "detected", Isolate="I-1", Strain="ST9")


def test_a_report_of_typing_adds_strains_to_what_stands(tmp_path):
    case = results_case(tmp_path)
    bring(case, [row(2, "detected", Isolate="I-1"), row(3, "detected")])
    outcome = bring(case, [TYPED, row(3, "detected", Isolate="I-2", Strain="ST8")], accession="L26-140")
    told = {key: one.strain for key, one in isolates_now(entries_of(case)).items()}
    assert (outcome.held, outcome.isolates) == ((), 2)
    assert told == {(NUMBERS[2], "I-1"): "ST9", (NUMBERS[3], "I-2"): "ST8"}


def test_the_same_typing_twice_adds_nothing(tmp_path):
    case = results_case(tmp_path)
    bring(case, [TYPED])
    assert bring(case, [TYPED], accession="L26-140").isolates == 0


def test_another_strain_of_the_same_isolate_needs_an_amended_report(tmp_path):
    case = results_case(tmp_path)
    bring(case, [TYPED])
    other = [row(2, "detected", Isolate="I-1", Strain="ST8")]
    outcome = bring(case, other, accession="L26-140")
    assert "was told as strain ST9, now as ST8; only an amended report changes it" in outcome.held[0].reason
    bring(case, other, "amended", reported_at="2026-03-12")
    assert [one.strain for one in isolates_now(entries_of(case)).values()] == ["ST8"]


def test_an_isolate_of_two_samples_is_held_apart(tmp_path):
    case = results_case(tmp_path)
    bring(case, [TYPED])
    outcome = bring(case, [row(3, "detected", Isolate="I-1")], accession="L26-140")
    assert f"isolate I-1 is of sample {NUMBERS[2]} in the record" in outcome.held[0].reason


def test_picks_are_counted_by_sample_and_kept_when_typing_follows(tmp_path):
    case = results_case(tmp_path)
    bring(case, [row(2, "detected", Isolate="I-1"), row(2, "detected", Isolate="I-2")])
    bring(case, [row(2, "detected", Isolate="I-2", Strain="ST9")], accession="L26-140")
    assert {key[1]: one.pick for key, one in isolates_now(entries_of(case)).items()} == {"I-1": 1, "I-2": 2}
