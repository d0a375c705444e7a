"""Matches with patients' isolates: codes only, the laboratory's words, one step of the ladder after another."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import DocumentRefused, SwabwrightError
from swabwright.inference.match_table import HEADING, QUOTES, patient_code, read_matches
from swabwright.inference.wording import LaboratoryMatch, Quote, graded
from swabwright.reports.banned import banned_phrases

MATCH = LaboratoryMatch(("P1", "P2"), "core-genome typing", "2 alleles", "indistinguishable")
TEAM = Quote("the most likely vehicle", "the outbreak team")
ROW = ["A", "P1 P2", "core-genome typing", "2 alleles", "indistinguishable"]


def test_a_distance_without_the_laboratory_s_words_is_no_match():
    assert graded(replace(MATCH, wording=" ")) == graded(None) == "Found in the plant."


def test_a_match_quotes_the_laboratory():
    assert graded(MATCH) == (
        "Found in the plant; same strain as 2 isolates from patients by core-genome typing, 2 alleles, in the "
        'laboratory\'s words: "indistinguishable".'
    )


def test_the_same_patient_twice_is_one_isolate():
    assert "same strain as 1 isolate from a patient by" in graded(replace(MATCH, patients=("P1", "P1")))


def test_consistent_with_being_the_source_is_said_only_as_somebody_said_it():
    assert "Consistent" not in graded(MATCH)
    said = graded(replace(MATCH, consistent=TEAM))
    assert said.endswith('Consistent with being the source, as the outbreak team said: "the most likely vehicle".')


def test_the_last_step_is_a_quotation_with_its_speaker():
    said = graded(replace(MATCH, consistent=TEAM, outbreak=TEAM))
    assert said.endswith(' On the outbreak, the outbreak team said: "the most likely vehicle".')


@pytest.mark.parametrize("step", ["consistent", "outbreak"])
def test_a_later_step_without_the_laboratory_s_words_is_refused(step):
    with pytest.raises(SwabwrightError, match="the laboratory's own words come first"):
        graded(replace(MATCH, wording="", **{step: TEAM}))


@pytest.mark.parametrize("quote", [Quote("", "the outbreak team"), Quote("the source", " ")])
def test_words_without_a_speaker_are_refused(quote):
    with pytest.raises(SwabwrightError, match="both or neither"):
        graded(replace(MATCH, outbreak=quote))


@pytest.mark.parametrize("lacks", [{"patients": ()}, {"method": ""}, {"distance": " "}])
def test_a_match_without_patients_method_or_distance_is_refused(lacks):
    with pytest.raises(SwabwrightError, match="by code, the method and the distance"):
        graded(replace(MATCH, **lacks))


def test_no_sentence_of_the_ladder_holds_a_banned_phrase():
    assert banned_phrases(graded(replace(MATCH, consistent=TEAM, outbreak=TEAM))) == []


@pytest.mark.parametrize("code", ["P1", "P-12", "ABC-12345"])
def test_a_short_code_names_a_patient(code):
    assert patient_code(code) == code


@pytest.mark.parametrize("text", ["Ada", "Lind, Ada", "1980-03-12", "AL-800312", "73", "p1", "P1\n", "SMITH1980", ""])
def test_a_name_or_a_date_of_birth_is_refused_and_not_repeated(text):
    with pytest.raises(SwabwrightError) as caught:
        patient_code(text)
    assert not text or text not in str(caught.value)


@settings(deadline=None, derandomize=True, max_examples=60)
@given(st.dates())
def test_no_date_is_a_code(day):
    for form in ("%Y-%m-%d", "%Y%m%d", "%d.%m.%Y", "%d%m%y", "P%Y%m%d", "P%d%m%y"):
        with pytest.raises(SwabwrightError):
            patient_code(day.strftime(form).zfill(6))


def test_a_table_is_read_by_isolate():
    long = [*ROW, "fits", "State laboratory", "", ""]
    assert read_matches([HEADING, ROW], "m.csv") == {"A": MATCH}
    assert read_matches([HEADING + QUOTES, long], "m.csv")["A"].consistent == Quote("fits", "State laboratory")


@pytest.mark.parametrize(
    ("rows", "says"),
    [
        ([], "row 1: must be isolate,patients,method,distance,wording"),
        ([HEADING[:4]], "row 1: must be"),
        ([HEADING, ROW[:4]], "row 2: has 4 cells, not 5"),
        ([HEADING, ["", *ROW[1:]]], "row 2: names no isolate"),
        ([HEADING, ROW, ROW], "row 3: A stands in the table already"),
        ([HEADING, ["A", "P1 Ada", *ROW[2:]]], "row 2: patients: write one to three capital letters"),
        ([HEADING + QUOTES, [*ROW, "fits", "", "", ""]], "row 2: match: give the words and who said them"),
    ],
)
def test_a_faulty_row_is_named(rows, says):
    with pytest.raises(DocumentRefused) as caught:
        read_matches(rows, "m.csv")
    assert says in str(caught.value)
