"""The plan on paper: the same bytes each time, every page readable in one ink, text that agrees with the data."""

from functools import cache

import numpy as np
import pytest
from builders.pages import heights_of, one_bit, pages, text_of, words_of
from builders.papers import at, chance, investigation, plan
from builders.smokehouse import smokehouse
from scipy import ndimage

from swabwright.case.plan import RestsOn
from swabwright.errors import SwabwrightError
from swabwright.planning.clock_words import BY_MECHANIC, ISOLATED
from swabwright.reports.closing_words import not_said, rests_rows
from swabwright.reports.first_page_words import finding
from swabwright.reports.glyphs import readable
from swabwright.reports.papers import plan_pdf
from swabwright.reports.plan_words import plan_words
from swabwright.reports.sheet_words import device_name

PLANT = smokehouse()
PLAN = plan(PLANT)


@cache
def paper(size="a4"):
    return plan_pdf(PLAN, PLANT, investigation(), paper=size)


def flat(text):
    return "".join(text.split())


def test_the_same_plan_gives_the_same_bytes():
    assert paper() == plan_pdf(PLAN, PLANT, investigation())


def test_the_pdf_is_tagged_archival_and_titled():
    document = pages(paper())
    assert document.get_metadata_value("Title") == "Visit 1, Thursday 5 March 2026"
    assert b"/StructTreeRoot" in paper()


def test_the_bookmarks_name_the_parts():
    titles = [mark.get_title() for mark in pages(paper()).get_toc()]
    assert {"Before you go in", "Kit to pack", "What this plan rests on"} <= set(titles)
    assert {"Slicing and packing", "Tray wash"} <= set(titles)


def test_every_sample_stands_on_the_walk_sheet_with_number_site_and_clock():
    said = flat(words_of(paper()))
    for sample in PLAN.samples:
        assert f"{sample.sample_number}at{sample.arrive_at:%H:%M},{flat(device_name(sample.device))}" in said
        assert sample.site is None or flat(f"{sample.site_name} ({sample.site})") in said


def test_the_first_page_says_the_finding_with_range_and_assumptions():
    first = " ".join(text_of(paper())[0].split())
    assert "find it with a chance of 91 in 100 (84 to 95). Under these assumptions no choice of 38 sites" in first
    assert "falls from 78 to 24 in 100 (10 to 41), under these assumptions" in first
    assert "tested on simulated plants only" in first


def test_every_foot_has_case_visit_page_draft_and_drawing():
    texts = text_of(paper())
    for number, text in enumerate(texts, start=1):
        foot = " ".join(text.split())
        assert f"DRAFT, not accepted. Case 26-031, Visit 1, page {number} of {len(texts)}" in foot
        assert "drawing 00000000" in foot


def test_an_accepted_plan_is_no_draft_and_says_as_of_when():
    said = words_of(plan_pdf(PLAN, PLANT, investigation(), accepted=True, computed_at=at("08:15")))
    assert "DRAFT" not in said
    assert "tested on simulated plants only, as of 2026-03-05 08:15" in said


def test_unconfirmed_figures_stand_most_influential_first():
    said = words_of(paper())
    assert said.index("presence.lives_here") < said.index("recovery.wet") < said.index("mechanism.splash.fraction")
    assert rests_rows(PLAN.model_copy(update={"rests_on": PLAN.rests_on[::-1]})) == rests_rows(PLAN)


def test_unmeasured_values_of_one_kind_and_reason_stand_together_each_named():
    made = [
        RestsOn(name=f"plant.json: {path}", words=path, value="as it stands", source="not drawn", influence=None)
        for path in ("sites[S001].position", "sites[S002].position", "doors[d-1].barrier")
    ]
    brief = rests_rows(PLAN.model_copy(update={"rests_on": tuple(made)}))["not_measured"]
    assert [(row["words"], row["value"]) for row in brief] == [
        ("position of sites", "S001, S002"),
        ("barrier of doors", "d-1"),
    ]


def test_chances_are_never_nought_and_never_a_hundred():
    sure = plan(PLANT, chance_of_finding=chance(0.999, 0.996, 1.0), chance_of_hitting=chance(0.001, 0.0, 0.01))
    said = "".join(part["text"] for part in finding(sure))
    assert "chance of more than 99 in 100 (more than 99 to more than 99)" in said
    assert "less than 1 in 100" in " ".join(not_said(sure))


@pytest.mark.parametrize("size", ["a4", "letter"])
def test_no_page_of_the_1_bit_copy_is_grey_or_empty(size):
    for page in pages(paper(size)):
        ink = np.asarray(one_bit(page, 100)) == 0
        assert 0.005 < ink.mean() < 0.35


def test_dots_survive_the_1_bit_copy_at_200_dpi():
    page = pages(paper())[0]
    ink = np.asarray(one_bit(page, 200)) == 0
    sizes = np.bincount(ndimage.label(ink, np.ones((3, 3)))[0].ravel())[1:]
    alone = [size for size in sizes if 4 <= size <= 16]
    assert len(alone) > 500


def test_needs_and_cautions_are_printed():
    said = words_of(paper())
    assert "mechanic opens and closes it" in said
    assert "Only plant staff open a machine" in said
    assert "10:00 to 10:40 the plant manager" in said
    assert "Samples 1 to 6, 10 to 14 touch surfaces that touch product" in said


def test_a_name_of_two_hundred_characters_stands_whole():
    name = ("under the fourth guard of the packing table beside the drain " * 4)[:199] + "x"
    long = PLANT.model_copy(update={"sites": (PLANT.sites[0].model_copy(update={"name": name}), *PLANT.sites[1:])})
    assert flat(name) in flat(words_of(plan_pdf(plan(long), long, investigation())))


def test_one_sample_alone_makes_a_plan():
    said = words_of(plan_pdf(plan(PLANT, count=1), PLANT, investigation()))
    assert "this one sample finds it with a chance of" in said
    assert "no choice of 1 site does better" in said
    assert "Not detected in the one sample would not mean" in said


def test_words_that_fill_a_strip_are_refused_with_the_sample_named():
    samples = (PLAN.samples[0].model_copy(update={"needs": ("isolate it, " * 30,) * 12}), *PLAN.samples[1:])
    with pytest.raises(SwabwrightError, match=PLAN.samples[0].sample_number):
        plan_pdf(PLAN.model_copy(update={"samples": samples}), PLANT, investigation())


def test_a_character_no_typeface_has_is_refused_with_its_remedy():
    odd = PLAN.model_copy(update={"sentences": (), "kit": (PLAN.kit[0].model_copy(update={"item": "\u6d17 sponge"}),)})
    with pytest.raises(SwabwrightError, match=r"U\+6D17.*write it in Latin"):
        plan_pdf(odd, PLANT, investigation())


def test_an_emoji_is_printed_by_its_name():
    odd = PLAN.model_copy(update={"kit": (PLAN.kit[0].model_copy(update={"item": "soap \U0001f9fc"}),)})
    assert readable(plan_words(odd, PLANT, investigation()))["kit"][0]["item"] == "soap (bar of soap)"


@pytest.mark.slow
def test_the_first_page_holds_its_key_however_long_the_names_and_many_the_devices():
    codes = ("SP", "SH", "SW", "CL", "BO", "SC", "WA", "PR", "PT", "AI")
    samples = tuple(sample.model_copy(update={"device": codes[sample.order % len(codes)]}) for sample in PLAN.samples)
    long = PLANT.model_copy(update={"name": "Northern smokehouse by the old harbour road, " * 4})
    first = text_of(plan_pdf(PLAN.model_copy(update={"samples": samples}), long, investigation()))[0]
    assert "start, the clean base" in " ".join(first.replace("\u00a0", " ").split())


@pytest.mark.parametrize("size", ["a4", "letter"])
def test_the_walk_sheet_has_lines_for_who_isolates_and_who_puts_together_again(size):
    samples = tuple(s.model_copy(update={"needs": (ISOLATED, BY_MECHANIC)}) for s in PLAN.samples[:4])
    stopped = PLAN.model_copy(update={"samples": samples + PLAN.samples[4:]})
    document = plan_pdf(stopped, PLANT, investigation(), paper=size)
    rows = {
        words: heights_of(document, words) for words in ("stopped, isolated by", "put together again by", "traffic")
    }
    assert len(rows["stopped, isolated by"]) == len(rows["put together again by"]) == 4
    # a line too long for its column would slide over the row above
    apart = np.subtract.outer(rows["put together again by"], rows["traffic"])
    assert np.abs(apart).min() > 8
