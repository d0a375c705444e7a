"""Laboratories' tables as they come: headers, lines above them, words, times, and a mapping that is remembered."""

from datetime import UTC, datetime

import pytest
import xlsxwriter
from builders.laboratory import LABORATORY, NUMBERS, OFFICE, add, bring, entries_of, results_case, row, write_table
from hypothesis import given
from hypothesis import strategies as st

from swabwright.case.folder import read_case
from swabwright.errors import DocumentRefused, SwabwrightError
from swabwright.record.laboratory import Isolate, ReportReceived, Result
from swabwright.record.moments import read_zone
from swabwright.record.results import current_results
from swabwright.work.import_results import ResultsRequest, import_results
from swabwright.work.results_report import GivenFacts
from swabwright.work.results_times import read_time
from swabwright.work.results_words import result_words

WORDS = result_words()
OSLO = read_zone("Europe/Oslo")


@pytest.fixture
def case(tmp_path):
    return results_case(tmp_path)


def bodies(case, kind):
    return [one.statement.body for one in entries_of(case) if isinstance(one.statement.body, kind)]


def take(case, table, laboratory=LABORATORY, mapping=None, **given):
    report = case.parent / "signed.pdf"
    report.write_bytes(b"signed")
    request = ResultsRequest(table, report, OFFICE, laboratory, mapping, GivenFacts(**given))
    return import_results(read_case(case), request)


@pytest.mark.parametrize(("word", "meaning"), [
    ("Not detected in 25 g", "not_detected"), ("ND / sponge", "not_detected"), ("NEGATIVE", "not_detected"),
    ("Detected", "detected"), ("positive in 100 cm2", "detected"), ("Confirmed", "detected"),
    ("screen positive", "presumptive"), ("Inhibited", "no_valid_result"), ("in  progress", "pending"),
    ("not confirmed", "not_detected"), ("maybe", None), ("nd?", None), ("<10 CFU", None),
])  # fmt: skip
def test_words_of_laboratories_are_understood_or_asked_about(word, meaning):
    assert WORDS.outcome(word, "final") == meaning


@pytest.mark.parametrize(
    ("word", "meaning"), [("positive", "presumptive"), ("confirmed", "detected"), ("nd", "not_detected")]
)
def test_nothing_in_a_preliminary_report_is_confirmed_unless_it_says_so(word, meaning):
    assert WORDS.outcome(word, "preliminary") == meaning


def test_no_word_has_two_meanings():
    words = [word for words in WORDS.data["outcomes"].values() for word in words]
    assert len(set(words)) == len(words)


@given(st.text())
def test_any_word_is_known_or_asked_about_and_never_an_error(word):
    assert WORDS.outcome(word, "final") in (
        None,
        "pending",
        "not_detected",
        "presumptive",
        "detected",
        "no_valid_result",
    )


@pytest.mark.parametrize(("text", "utc"), [
    ("2026-03-06 07:30", datetime(2026, 3, 6, 6, 30, tzinfo=UTC)),
    ("06.03.2026 07:30", datetime(2026, 3, 6, 6, 30, tzinfo=UTC)),
    ("6 March 2026 07:30", datetime(2026, 3, 6, 6, 30, tzinfo=UTC)),
    ("2026-03-06T07:30:00+00:00", datetime(2026, 3, 6, 7, 30, tzinfo=UTC)),
    ("2026-07-06 07:30:00", datetime(2026, 7, 6, 5, 30, tzinfo=UTC)),
])  # fmt: skip
def test_times_are_read_at_the_laboratorys_clock(text, utc):
    assert read_time(text, OSLO, WORDS) == utc


@pytest.mark.parametrize("text", ["06/03/2026", "03/06/2026 07:30", "yesterday", "46087.3", "2026-13-01"])
def test_a_time_that_can_be_read_two_ways_is_not_read(text):
    assert read_time(text, OSLO, WORDS) is None


def test_a_spreadsheet_says_above_its_header_which_report_it_is(case):
    path = case.parent / "results.xlsx"
    with xlsxwriter.Workbook(path) as book:
        sheet = book.add_worksheet("Results")
        for at, line in enumerate([["Accession number", "L26-300"], ["Report status: final"], ["Signed by", "S. Holm"],
                                   ["Date of report", "2026-03-09"], [], ["Your sample number", "Outcome", "Started"],
                                   [NUMBERS[2], "Not detected", "2026-03-06 07:30"]]):  # fmt: skip
            sheet.write_row(at, 0, line)
        book.add_worksheet("Legend").write_row(0, 0, ["nd means not detected"])
    facts = take(case, path).facts
    assert (facts.accession, facts.status, facts.authorised_by) == ("L26-300", "final", "S. Holm")
    assert current_results(entries_of(case))[NUMBERS[2]][0].outcome == "not_detected"


@pytest.mark.parametrize(("missing", "words"), [
    ("accession", "the report's accession stands neither above the table nor on the command; give --accession"),
    ("status", "give --status (preliminary, final, amended)"),
    ("authorised_by", "give --signed-by"),
])  # fmt: skip
def test_a_report_that_does_not_say_what_it_is_is_refused(case, missing, words):
    given = {"accession": "L1", "status": "final", "authorised_by": "S. Holm"}
    del given[missing]
    with pytest.raises(SwabwrightError) as refused:
        take(case, write_table(case.parent, [row(2)]), **given)
    assert words in str(refused.value)


@pytest.mark.parametrize(("header", "words"), [
    ("Sample number,Method", "no column for outcome; name it in the mapping file, \\[sheets.results\\] columns"),
    ("Breakfast,Lunch", "no row looks like a header for results .* \\[sheets.results\\] header_row"),
])  # fmt: skip
def test_a_table_without_results_is_refused(case, header, words):
    table = case.parent / "t.csv"
    table.write_text(f"{header}\n7K4M9R-2,culture\n")
    with pytest.raises(SwabwrightError, match=words):
        take(case, table, accession="L1", status="final", authorised_by="S. Holm")


def test_a_missing_report_or_table_is_named(case):
    with pytest.raises(SwabwrightError, match="there is no such file"):
        take(case, case.parent / "none.csv", accession="L1", status="final", authorised_by="S. Holm")


def test_without_a_name_the_laboratory_that_received_the_samples_is_taken(case):
    add(
        case, "laboratory_receipt", laboratory=LABORATORY, received_by="S. Holm", samples=[NUMBERS[2]], condition="cold"
    )
    table = write_table(case.parent, [row(2)])
    outcome = take(case, table, laboratory=None, accession="L1", status="final", authorised_by="S. Holm")
    assert outcome.facts.laboratory == LABORATORY


def test_without_a_name_or_a_receipt_the_laboratory_is_asked_for(case):
    with pytest.raises(SwabwrightError, match="names no laboratory that received samples; give --laboratory"):
        take(case, write_table(case.parent, [row(2)]), laboratory=None)


MAPPING = """
[laboratory]
storage = "freezer 2"
method = "own method 7"
[sheets.results]
columns = {outcome = "Result", remarks = "Site name"}
[words]
"growth" = "detected"
[organisms]
"Lmo" = "listeria_monocytogenes"
"""


def mapping_file(case, text=MAPPING):
    path = case.parent / "fjord.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_mapping_explains_words_and_names_columns_and_is_remembered(case):
    rows = [row(2, "growth", Organism="Lmo", Method="", Site_name="as agreed", Isolate="I-1")]
    bring(case, rows, mapping=mapping_file(case))
    outcome = bring(case, [row(3, "growth", Organism="Lmo")], accession="L26-119")
    assert outcome.taken == (NUMBERS[3],)
    assert (case / "laboratories/fjord-laboratory-invented.toml").read_text("utf-8") == MAPPING


def test_what_the_mapping_says_is_entered(case):
    rows = [row(2, "growth", Organism="Lmo", Method="", Site_name="as agreed", Isolate="I-1", Strain="ST9")]
    bring(case, rows, mapping=mapping_file(case))
    (result,), (isolate,) = bodies(case, Result), bodies(case, Isolate)
    assert (result.method, result.remarks, result.organism) == ("own method 7", "as agreed", "Listeria monocytogenes")
    assert (isolate.storage, isolate.strain, isolate.held_by) == ("freezer 2", "ST9", LABORATORY)


@pytest.mark.parametrize(("text", "words"), [
    ("[words]\nx = 'maybe'", "words"),
    ("[organisms]\nx = 'yersinia'", "no organism 'yersinia'"),
    ("[sheets.results]\ncolumns = {outcome = 'Reslt'}", "no column 'Reslt' in the sheet; did you mean 'Result'"),
    ("[sheets.results]\nsheet = 1", "sheets.results.sheet"),
    ("[sheets.result]\nsheet = 'Results'", "sheets.result"),
    ("[words", "not TOML"),
])  # fmt: skip
def test_a_faulty_mapping_is_refused_with_its_place(case, text, words):
    with pytest.raises((DocumentRefused, SwabwrightError)) as refused:
        bring(case, [row(2)], mapping=mapping_file(case, text))
    assert words in str(refused.value)


def test_the_report_is_kept_with_its_table_and_what_it_says_of_itself(case):
    bring(case, [row(2)], reported_at="2026-03-09")
    (report,) = bodies(case, ReportReceived)
    assert (case / "files" / report.file.name).is_file()
    assert (case / "files" / report.table.name).is_file()
    assert (report.status, report.reported_at, report.held_apart) == ("final", "2026-03-09T23:59:00+00:00", None)


def test_counts_are_kept_with_the_share_that_was_plated(case):
    bring(case, [row(2, "detected", Colonies="12", Share_plated="10 %"), row(3, "detected", Colonies="4")])
    counted, bare = bodies(case, Result)
    assert (counted.colonies, counted.plated_ppm, bare.colonies) == (12, 100_000, None)


def test_the_start_of_analysis_is_entered_with_its_offset(case):
    bring(case, [row(2)], time_zone="Europe/Oslo")
    assert bodies(case, Result)[0].analysis_started_at == "2026-03-06T07:30:00+01:00"


def test_the_status_may_stand_in_a_column(case):
    table = write_table(case.parent, [row(2, Status="Final"), row(3, Status="")])
    assert take(case, table, accession="L1", authorised_by="S. Holm").facts.status == "final"


def test_our_number_is_told_from_the_laboratorys_own(case):
    table = case.parent / "t.csv"
    table.write_text(f"Laboratory number,Client reference,Result\n881,{NUMBERS[2]},not detected\n")
    assert take(case, table, accession="L1", status="final", authorised_by="S. Holm").taken == (NUMBERS[2],)
