"""Strain links: the tree drawn between sites, none above the limit the page names, each with its differences."""

import re
from functools import cache

import pytest
from builders.pages import text_of, words_of
from builders.papers import investigation
from builders.smokehouse import smokehouse
from builders.traced import BRANCHES, STRAINS, isolates

from swabwright.reports.banned import banned_phrases
from swabwright.reports.beside_papers import beside_papers
from swabwright.reports.link_lines import link_disc, link_lines, link_numbers
from swabwright.reports.marks import Mark
from swabwright.reports.spots import Link, Shown, Spot
from swabwright.reports.strain_links import Tree, link_sign, strain_scene, strains_beside


def paper_of(tree, made=None):
    made = made or isolates()
    scene, beside = strain_scene(smokehouse(), made, tree), strains_beside(made, tree, ("A distance decides nothing.",))
    return beside_papers(scene, beside, [link_sign()], investigation())


@cache
def papers():
    return paper_of(Tree(BRANCHES, None))


def links(tree, made=None):
    return [link.number for link in strain_scene(smokehouse(), made or isolates(), tree).links]


def stop(x, y=0.0):
    return Shown(Spot((x, y), Mark("SP", 3)), (x, y), (x, y))


def test_without_a_limit_only_isolates_of_one_strain_are_linked():
    assert links(Tree(BRANCHES, None)) == ["0", "1", "2"]


@pytest.mark.parametrize(("limit", "drawn"), [(0.0, ["0"]), (1.0, ["0", "1"]), (40.0, ["0", "1", "2", "38"])])
def test_no_link_is_drawn_above_the_limit(limit, drawn):
    assert links(Tree(BRANCHES, limit)) == drawn


def test_isolates_that_nobody_typed_are_not_linked_without_a_limit():
    assert links(Tree(BRANCHES, None), isolates(dict.fromkeys(STRAINS))) == []


def test_isolates_without_a_site_are_listed_and_not_drawn():
    made = tuple(one for one in isolates() if one.name != "iso-S026")
    assert links(Tree(BRANCHES, None), made) == ["1", "2"]
    assert "iso-S026" in words_of(paper_of(Tree(BRANCHES, None), made)["strains.pdf"])


def test_two_isolates_of_one_site_need_no_line():
    first, second, *_ = isolates()
    twin = type(second)(second.name, second.strain, first.sample)
    branch = type(BRANCHES[0])(first.name, twin.name, 0.0)
    assert links(Tree((branch,), None), (first, twin)) == []


def test_a_link_is_two_lines_with_white_between():
    svg = link_lines([Link(0, 1, "2")], [stop(0.0), stop(30.0)])
    assert re.findall(r'stroke="(#\w+)"', svg) == ["#000", "#fff"]


def test_the_number_stands_on_the_middle_of_what_shows():
    svg = link_numbers([Link(0, 1, "2")], [stop(0.0), stop(30.0)])
    assert 'x="15.00"' in svg


def test_between_marks_that_touch_the_number_stands_aside():
    svg = link_numbers([Link(0, 1, "2")], [stop(0.0), stop(5.0)])
    aside = float(re.search(r'<text x="[\d.]+" y="([\d.]+)"', svg).group(1))
    assert aside > stop(0.0).radius_mm


def test_a_disc_grows_with_its_number():
    wide = [float(re.search(r'width="([\d.]+)"', link_disc(number, (5, 5))).group(1)) for number in ("2", "1234")]
    assert wide[1] > wide[0]


def test_the_page_names_its_limit_and_every_branch():
    words = words_of(papers()["strains.pdf"])
    assert "isolates that the laboratory calls one strain" in words
    assert "38" in words
    assert all("DRAFT" in text for text in text_of(papers()["strains.pdf"]))


def test_marks_say_detected_and_which_strain():
    assert "Z2 detected, A" in papers()["strains.svg"].decode()


def test_no_page_says_a_banned_phrase():
    assert banned_phrases(words_of(papers()["strains.pdf"])) == []


def test_the_same_isolates_give_the_same_bytes():
    assert paper_of(Tree(BRANCHES, None)) == papers()
