"""The paper of a proposal: boxed numbers that go on, the table beside, other ways and material with what each gives."""

import re
from functools import cache

import pytest
from builders.pages import first_drawing, text_of, words_of
from builders.proposed import AT, before, proposal, two_visits
from builders.smokehouse import smokehouse

from swabwright.reports.banned import banned_phrases
from swabwright.reports.next_papers import next_papers

pytestmark = pytest.mark.slow


FIRST = 41


@cache
def papers(paper="a4"):
    return next_papers(proposal(), (smokehouse(), two_visits()), before(), first=FIRST, paper=paper)


def words():
    return words_of(papers()["next-visit.pdf"])


def test_the_same_proposal_gives_the_same_bytes():
    again = next_papers(proposal(), (smokehouse(), two_visits()), before(), first=FIRST)
    assert again == papers()


def test_proposed_samples_are_boxed_numbers_that_go_on():
    svg = first_drawing(papers()["next-visit.svg"])
    boxed = re.findall(r"<rect [^>]*/><text [^>]*>(\d+)</text>", svg)
    assert sorted(int(number) for number in boxed) == list(range(FIRST, FIRST + len(AT)))


def test_what_came_back_so_far_stays_on_the_drawing():
    svg = first_drawing(papers()["next-visit.svg"])
    assert len(re.findall(r'href="#\w+-not-detected"', svg)) == 31
    assert len(re.findall(r'href="#\w+-not-yet-known"', svg)) == len(AT)


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_table_of_the_samples_stands_beside_the_drawing(paper):
    first = " ".join(text_of(papers(paper)["next-visit.pdf"])[0].split())
    assert [code for code in AT if f"({code})" not in first] == []
    assert "31 in 100 (20 to 44)" in first


def test_other_ways_say_what_each_gives():
    wanted = (
        "find any",
        "hit the niche",
        "samples around a positive",
        "finds it",
        "hits the niche",
        "0.90 (0.85 to 0.95)",
    )
    assert [said for said in wanted if said not in words()] == []


def test_material_says_what_either_result_would_make_it():
    assert "77 in 100 (63 to 87)" in words()
    assert "from an unopened pack" in words()


def test_a_machine_that_is_opened_names_the_plants_staff():
    assert words().count("opened up by plant staff") == 1


def test_draft_stands_on_every_page():
    assert all("DRAFT" in text for text in text_of(papers()["next-visit.pdf"]))


def test_no_page_says_a_banned_phrase():
    assert banned_phrases(words()) == []


def test_without_material_no_question_is_asked_of_it():
    bare = next_papers(proposal(materials=()), (smokehouse(), two_visits()), before(), first=FIRST)
    assert "did it come in from outside" not in words_of(bare["next-visit.pdf"])
