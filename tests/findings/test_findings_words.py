"""The sentences of findings: graded, ranged, and never more than was found."""

import re

import pytest
from builders.findings import findings_tiny, read_tiny, told

from swabwright.case.findings import GroupFinding, PlaceFinding
from swabwright.case.plan import Chance
from swabwright.detection.observed import Blanks
from swabwright.inference.wording import LaboratoryMatch, graded
from swabwright.reports.banned import banned_phrases
from swabwright.work.findings_compose import compose_findings
from swabwright.work.findings_where import supported
from swabwright.work.findings_words import UNDER, summary


@pytest.fixture(scope="module")
def found():
    return findings_tiny((2, 3), (1, 5))


@pytest.fixture(scope="module")
def silent():
    return findings_tiny((), (1, 2, 3, 4))


def chance(value):
    return Chance(value=value, low=value / 2, high=(1 + value) / 2, basis="a test")


def claimed(findings, level, name, value):
    """The findings with another place in the lead, and the first sentence that says where it lives."""
    first = findings.places[0].model_copy(update={"niche_here": chance(value)})
    changed = {"support": level, "supported": name, "places": (first, *findings.places[1:])}
    for groups in ("machines", "rooms"):
        changed[groups] = tuple(
            one.model_copy(update={"niche_within": chance(value)}) for one in getattr(findings, groups)
        )
    return next(one for one in summary(findings.model_copy(update=changed)) if "whichever way" in one)


def test_no_sentence_says_a_banned_phrase(found, silent):
    sentences = [*found.sentences, *silent.sentences, found.ways_words, found.credible_set.words, found.tested_on]
    assert [bad for sentence in sentences for bad in banned_phrases(sentence)] == []


def test_no_sentence_gives_a_verdict(found, silent):
    said = " ".join((*found.sentences, *silent.sentences)).lower()
    assert not re.search(r"\b(verdict|proven|proves|certain(ly)?|guarantee)\b", said)


def test_a_place_is_named_with_both_ends_of_what_was_not_measured(found):
    said = claimed(found, "site", found.places[0].place, 0.86)
    name = f"{found.places[0].name} ({found.places[0].place})"
    ends = "86 in 100, and between 43 and 93 whichever way we set what we could not measure, under these assumptions"
    assert said == f"It most likely lives in or under {name}: {ends}."


@pytest.mark.parametrize(
    ("level", "name", "words"), [("machine", "slicer", "in or around Slicer A"), ("room", "wash", "in Wash")]
)
def test_a_machine_or_a_room_is_named_before_a_site_is_sure_enough(found, level, name, words):
    said = claimed(found, level, name, 0.9)
    assert said.startswith(f"It most likely lives {words}: 90 in 100, and between 45 and 95")
    assert said.endswith("no single site is sure enough.")


def test_without_enough_for_a_claim_nothing_is_named_as_where_it_lives(found):
    said = claimed(found, "none", None, 0.4)
    assert said.startswith("No site, machine or room stands out enough to be named as where it lives (80 in 100")


def test_every_sentence_with_a_ranged_chance_says_under_which_assumptions(found):
    ranged = [one for one in found.sentences if re.search(r"in 100 \(.* to .*\)", one) and "prior" not in one]
    assert len(ranged) >= 4
    assert all(UNDER in one or "over its range" in one for one in ranged)


def test_not_detected_does_not_mean_that_it_is_not_there(silent):
    assert silent.sentences[0] == "Detected in none of 4 results read."
    said = silent.sentences[1]
    assert said.startswith("Not detected in all 4 does not mean that it is not there: the chance that it lives here")
    assert re.search(r"falls from 70 to \d+ in 100 \(\d+ to \d+\), under these assumptions\.$", said)


def test_what_was_found_goes_no_further_than_the_laboratory(found):
    assert found.sentences[0].startswith("Found in the plant. Detected at ")
    match = LaboratoryMatch(("P-1",), "cgMLST", "2 alleles", "indistinguishable")
    matched = compose_findings(read_tiny((2,), (1,)), told(strain="ST9", found=graded(match)))
    assert matched.sentences[0].startswith("Strain ST9: Found in the plant; same strain as 1 isolate from a patient")


def test_a_presumptive_result_is_not_called_found():
    screened = compose_findings(read_tiny((2,), (1,)), told(presumptive=frozenset({"sample 2"})))
    assert screened.sentences[0] == (
        "Detected in none of 2 results read. Presumptive, not confirmed yet, at belt_product_side 2."
    )
    assert screened.presence is None


def test_the_likeliest_last_step_to_each_detection_is_said(found):
    steps = [one for one in found.sentences if one.startswith("The last step to ")]
    assert len(steps) == len(found.ways) == 2
    assert all(to.ways[0].words in said for to, said in zip(found.ways, steps, strict=True))


def test_without_a_detection_where_it_lives_hangs_on_whether_it_is_here(silent):
    said = claimed(silent, "site", silent.places[0].place, 0.86)
    assert said.startswith("If it is here at all, it most likely lives in or under")


def test_blanks_say_what_they_do_to_all_the_others(found):
    loud = findings_tiny((2,), (1,), blanks=(Blanks("visit-1", 1, 1),)).blanks[0]
    assert loud.words.startswith("1 blank of 2 of First visit detected: every detection of it weighs less")
    assert "contaminated on the way is" in loud.words
    assert found.blanks[0].words.startswith("No blank of First visit was read")


def test_the_last_sentence_says_on_what_it_was_tested_and_that_people_decide(found):
    assert found.sentences[-1].startswith("Tested on simulated plants only. This is decision support")
    assert "releases no product" in found.sentences[-1]


def test_who_set_the_prior_is_said(found):
    assert any(one.startswith("The prior is set by the catalogue, unconfirmed") for one in found.sentences)


def place(name, value, **changes):
    usual = {"place": name, "name": name, "room": "slicing", "machine": None}
    chances = dict.fromkeys(("niche_here", "share", "remains_if_removed", "another_too"), chance(value))
    return PlaceFinding(**{**usual, **chances, **changes})


def group(name, value):
    return GroupFinding(group=name, name=name, niche_within=chance(value), share=chance(value))


@pytest.mark.parametrize(
    ("places", "machine", "room", "expected"),
    [
        ([place("S1", 0.81)], 0.9, 0.95, ("site", "S1")),
        ([place("S1", 0.8)], 0.9, 0.95, ("machine", "m")),
        ([place("S1", 0.5)], 0.6, 0.95, ("room", "r")),
        ([place("S1", 0.5)], 0.6, 0.7, ("none", None)),
        ([place("room:slicing", 0.9)], 0.1, 0.95, ("room", "slicing")),
        ([place("line:a", 0.9, room=None)], 0.1, 0.1, ("incoming", "line:a")),
    ],
)
def test_a_claim_goes_as_far_as_its_chance_and_no_further(places, machine, room, expected):
    assert supported(places, [group("m", machine)], [group("r", room)], 0.8) == expected
