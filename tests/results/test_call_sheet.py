"""A screening result that touches food, or stands beside what does, opens a call sheet at once."""

import json
from datetime import datetime

import pytest
from builders.laboratory import BLANK, NUMBERS, PRODUCT, SPARE, add, bring, collect, enter, results_case, row
from builders.pages import pages, words_of

from swabwright.case.folder import read_case
from swabwright.errors import SwabwrightError
from swabwright.reports import call_sheet as page
from swabwright.reports.banned import banned_phrases
from swabwright.work import call_sheet
from swabwright.work.call_sheet import write_call_sheet

NOW = datetime.fromisoformat("2026-03-07T15:02:00+01:00")


@pytest.fixture
def case(tmp_path):
    return results_case(tmp_path)


def sheet_of(case, rows, status="preliminary"):
    return write_call_sheet(read_case(case), bring(case, rows, status).report, NOW)


def document(written):
    return json.loads(written.json.read_text("utf-8"))


@pytest.mark.parametrize("status", ["preliminary", "final"])
@pytest.mark.parametrize("at", [0, 1], ids=["zone 1", "zone 2 on the same line"])
def test_a_result_near_food_opens_a_call_sheet(case, at, status):
    said = document(sheet_of(case, [row(at, "positive")], status))
    assert [one["sample"] for one in said["results"]] == [NUMBERS[at]]
    assert said["results"][0]["outcome"] == {"preliminary": "presumptive", "final": "detected"}[status]


@pytest.mark.parametrize(
    "quiet", [row(0), row(3, "positive"), row(4, "positive"), row(BLANK, "positive"), row(0, "void")]
)
def test_other_results_open_none(case, quiet):
    assert sheet_of(case, [quiet]) is None
    assert not (case / "call-sheets").exists()


def test_product_opens_a_call_sheet(case):
    enter(case, collect(PRODUCT, sample_kind="product", product_lot="JL-26062-B"))
    (one,) = document(sheet_of(case, [row(PRODUCT, "suspect")]))["results"]
    assert (one["why"], one["site_name"], one["line"]) == ("It is product.", "product, lot JL-26062-B", "line-b")


def test_a_site_of_no_line_asks_about_product_of_every_line(case):
    enter(case, collect(SPARE, site="S059", zone=1))
    said = document(sheet_of(case, [row(SPARE, "suspect"), row(0, "suspect")]))
    assert {lot["line"] for lot in said["lots"]} == {"Line A", "Line B"}
    assert said["not_answered"] == ["Line A"]


def test_long_words_never_hold_up_a_call(case):
    add(case, "refusal", of="hold", refused_by="N. Berg", words="not now " * 400)
    enter(case, *(collect(at, site="S025", zone=1) for at in range(10, 16)))
    written = sheet_of(case, [row(at, "suspect") for at in (0, 1, *range(10, 16))])
    assert len(document(written)["results"]) == 8
    assert written.pdf.is_file()


def test_what_touches_food_stands_before_what_stands_beside_it(case):
    said = document(sheet_of(case, [row(1, "suspect"), row(0, "suspect")]))
    assert [one["zone"] for one in said["results"]] == [1, 2]
    assert len([words for words in said["may_be_said"] if "reports" in words]) == 1


def test_the_sheet_says_who_is_rung_and_leaves_open_what_no_document_holds(case):
    ring = {one["who"]: one for one in document(sheet_of(case, [row(0, "suspect")]))["to_ring"]}
    assert ring["Our lead"]["name"] == "H. Okafor"
    assert ring["Plant: out of hours"] == {
        "who": "Plant: out of hours",
        "name": None,
        "number": None,
        "out_of_hours": None,
    }


def test_the_sheet_holds_answers_lots_and_times(case):
    add(case, "refusal", of="hold", refused_by="N. Berg", words="not before the owner is here")
    said = document(sheet_of(case, [row(0, "suspect")]))
    assert said["as_of"] == "2026-03-07T14:02:00Z"
    assert [one["words"] for one in said["hold"]] == [
        "Line B: held since lot JL-1, says N. Berg",
        "refused by N. Berg: not before the owner is here",
    ]
    assert {lot["code"] for lot in said["lots"]} == {"JL-26062-B", "JL-26063-B"}


def test_what_may_be_said_names_the_plants_own_site_and_that_it_is_a_screen(case):
    said = " ".join(document(sheet_of(case, [row(0, "suspect")]))["may_be_said"])
    assert (
        "Fjord Laboratory (invented) reports 'presumptive' for Listeria monocytogenes: Slicer B, blade guard " in said
    )
    assert f"(sample {NUMBERS[0]}, taken 5 March, 09:10)." in said
    assert "a screening result; confirmation is under way" in said


def test_a_confirmed_result_is_not_called_a_screen(case):
    said = " ".join(document(sheet_of(case, [row(0, "confirmed")], "final"))["may_be_said"])
    assert "screening" not in said


def test_the_page_is_one_sheet_of_words_that_may_be_said(case):
    written = sheet_of(case, [row(0, "suspect"), row(1, "suspect")])
    text = words_of(written.pdf.read_bytes())
    assert len(pages(written.pdf.read_bytes())) == 1
    assert banned_phrases(text) == []
    assert all(
        words in text for words in ("as of 2026-03-07 14:02", "Ring, in this order", "fill them in by hand", "JL-1")
    )


def test_many_results_go_on_to_further_pages(case):
    written = sheet_of(case, [row(0, "suspect")])
    sheet = page.CallSheet.model_validate_json(written.json.read_bytes())
    many = sheet.model_copy(update={"results": sheet.results * 40})
    assert len(pages(page.call_sheet_pdf(many, "letter"))) > 1


def test_without_an_answer_about_product_the_page_asks_first(case):
    written = sheet_of(case, [row(0, "suspect")])
    sheet = page.CallSheet.model_validate_json(written.json.read_bytes()).model_copy(update={"lots": ()})
    words = page.call_sheet_words(sheet.model_copy(update={"not_answered": ("Line B",), "hold": ()}))
    assert words["hold"] == ["Line B: nobody has answered in the record whether product is held. Ask it first."]
    assert "names no lots of these lines" in words["lots"]


def test_the_same_report_again_leaves_the_sheet_with_its_time(case):
    first = sheet_of(case, [row(0, "suspect")])
    before = first.json.read_bytes()
    again = sheet_of(case, [row(0, "suspect")])
    assert (again.json, again.json.read_bytes()) == (first.json, before)
    assert "written before" in again.sentences[0]


def test_a_sheet_lost_to_a_stopped_run_is_written_by_the_next(case):
    sheet_of(case, [row(0, "suspect")]).json.unlink()
    assert sheet_of(case, [row(0, "suspect")]).json.is_file()


def test_the_call_does_not_wait_for_a_page_that_cannot_be_set(case, monkeypatch):
    def broken(sheet):
        raise SwabwrightError("the typefaces are missing")

    monkeypatch.setattr(call_sheet, "call_sheet_pdf", broken)
    written = sheet_of(case, [row(0, "suspect")])
    assert (written.pdf, written.json.is_file()) == (None, True)
    assert written.sentences[0].startswith("RING NOW: presumptive at Slicer B, blade guard")


def test_the_first_line_says_whom_it_is_about(case):
    assert (
        sheet_of(case, [row(1, "suspect")])
        .sentences[0]
        .startswith(f"RING NOW: presumptive at Slicer B, housing seam, sample {NUMBERS[1]}. Call sheet: ")
    )
