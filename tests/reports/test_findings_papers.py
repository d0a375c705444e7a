"""The papers of findings: all dots, every figure from the document, marks and words of results, readable in one ink."""

import re
from functools import cache

import numpy as np
import pytest
from builders.found import DETECTED, findings_sheet
from builders.pages import one_bit, pages, text_of, words_of
from builders.papers import chance

from swabwright.reports.banned import banned_phrases
from swabwright.reports.findings_papers import findings_papers
from swabwright.reports.findings_tables import together

pytestmark = pytest.mark.slow


@cache
def papers(paper="a4"):
    return findings_papers(findings_sheet(), paper)


@cache
def silent():
    """The same visit with nothing detected: the finding is what silence means."""
    presence = {"before": chance(0.78, 0.6, 0.9), "after": chance(0.24, 0.1, 0.41)}
    silence = "Not detected in all does not mean that it is not there: 24 in 100."
    sentences = ("Not detected in any of 37 results.", silence, "If it lives here, it lives at Slicer B.", "Simulated.")
    more = {"presence": presence, "sentences": sentences, "weights": (), "hardest": (), "ways": ()}
    return words_of(findings_papers(findings_sheet(**more))["findings.pdf"])


def numbers_in(text):
    return {float(number.replace(",", "")) for number in re.findall(r"\d[\d,]*(?:\.\d+)?", text)}


def said_by(value):
    """Every number that a document holds or says, as a figure may be printed: as it is, or out of 100."""
    if isinstance(value, bool) or value is None:
        return set()
    if isinstance(value, int | float):
        return {float(value), float(round(abs(value))), round(abs(value), 1), float(f"{100 * abs(value):.0f}")}
    if isinstance(value, str):
        return numbers_in(value)
    held = value.values() if isinstance(value, dict) else value
    return set().union(*(said_by(one) for one in held))


def circles(svg, layer):
    return re.findall(r"<circle", re.search(rf'<g id="{layer}".*?</g>', svg).group())


def test_the_same_findings_give_the_same_bytes():
    assert findings_papers(findings_sheet()) == papers()


def test_the_dots_on_the_sheet_and_beside_it_are_a_thousand():
    stipple = findings_sheet().found.stipple
    assert len(circles(papers()["findings.svg"].decode(), "stipple")) + stipple.not_drawn == 1000


def test_what_is_not_drawn_has_its_box_with_its_count_in_words():
    assert "50 not drawn" in words_of(papers()["findings.pdf"])


def test_no_dot_for_what_is_not_drawn_is_never_said_to_be_none():
    stipple = findings_sheet().found.stipple.model_copy(update={"not_drawn": 0})
    assert "less than 1 not drawn" in words_of(findings_papers(findings_sheet(stipple=stipple))["findings.pdf"])


def test_every_figure_of_the_paper_stands_in_the_findings():
    sheet = findings_sheet()
    printed = numbers_in(" ".join(text_of(papers()["findings.pdf"])))
    held = said_by(sheet.found.model_dump(mode="json"))
    held |= said_by([site.model_dump(mode="json") for site in sheet.plant.sites])
    held |= said_by([sample.order for sample in sheet.sampled]) | said_by(sheet.plant.name)
    furniture = {1, 2, 3, 4, 5, 6, 10, 20, 50, 100, 200, 256, 16, 1.15, 2000, 1000, 26, 31}
    furniture |= numbers_in("26-031 2026-03-16 11:30 " + " ".join(machine.name for machine in sheet.plant.equipment))
    rest = sum(sorted(place.dots for place in sheet.found.believed if not place.place.startswith("line:"))[:-3])
    assert printed - held - furniture - {float(rest)} == set()


def test_a_detected_site_is_solid_with_its_number_and_its_word():
    svg = papers()["findings.svg"].decode()
    solid = re.findall(r'href="#\w+-detected"', svg.split('<g id="fixtures"')[1])
    assert len(solid) == len(DETECTED)
    assert all(f">{int(code[1:])}</text>" in svg for code in DETECTED)


def test_another_strain_is_drawn_as_detected_and_not_read():
    assert "Z4 detected, not read here" in papers()["findings.svg"].decode()


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_draft_and_what_it_was_tested_on_stand_on_every_page(paper):
    texts = text_of(papers(paper)["findings.pdf"])
    assert all("DRAFT" in text and "tested on simulated plants only" in text for text in texts)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_first_page_says_finding_ranking_dots_and_limits(paper):
    first = " ".join(text_of(papers(paper)["findings.pdf"])[0].split())
    wanted = ("most likely lives in or under Slicer B", "71 in 100", "What this does not say", "One dot is one chance",
              "Not on the drawing", "Came in with material", "under these assumptions")  # fmt: skip
    assert [words for words in wanted if words not in first] == []


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_detail_plate_follows_on_the_second_page(paper):
    second = text_of(papers(paper)["findings.pdf"])[1]
    assert "the same dots, larger" in " ".join(second.split())
    assert "Which results moved it" in second


def test_prior_and_who_chose_it_stand_beside_two_other_priors():
    words = words_of(papers()["findings.pdf"])
    assert "Who chose the prior" in words
    assert all(words.count(prior) for prior in ("by the catalogue", "every drawn site alike", "the site type alone"))


def test_every_result_that_was_read_is_listed_with_its_container():
    words = words_of(papers()["findings.pdf"])
    assert [one.sample for one in findings_sheet().found.results if one.sample not in words] == []


def test_what_was_left_out_says_why():
    assert "it says nothing of A" in words_of(papers()["findings.pdf"])


def test_nothing_detected_says_what_silence_means_first():
    assert "does not mean that it is not there" in silent()
    assert "Nothing was detected, so nothing needs explaining" in silent()


@pytest.mark.parametrize("name", ["findings.pdf"])
def test_no_page_says_a_banned_phrase(name):
    assert banned_phrases(words_of(papers()[name])) == []


def test_the_drawing_holds_no_picture_of_pixels_and_its_own_letters():
    svg = papers()["findings.svg"].decode()
    assert "<image" not in svg
    assert "@font-face" in svg


def test_a_one_bit_copy_keeps_the_dots_of_the_plate_apart():
    ink = np.asarray(one_bit(pages(papers()["findings.pdf"])[1], 200)) == 0
    assert 0.01 < ink.mean() < 0.2


def test_no_line_of_the_drawing_is_thinner_than_three_tenths_of_a_millimetre():
    svg = papers()["findings.svg"].decode()
    flat = re.sub(r'<g transform="translate[^>]*scale.*?</g>|<defs>.*?</defs>', "", svg)
    assert min(float(width) for width in re.findall(r'stroke-width="([\d.]+)"', flat)) >= 0.3


def test_samples_left_out_for_one_reason_stand_together():
    said = together(("sample A-1: taken later", "sample B-2: taken later", "3 collected samples without a result yet"))
    assert said == ["2 samples: taken later: A-1, B-2", "3 collected samples without a result yet"]
