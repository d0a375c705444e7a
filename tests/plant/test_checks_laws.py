"""Laws of what is missing: answering a question removes it, and asks no other."""

import pytest
from builders.plants import line_a, site, tiny_plant, tiny_sites, twenty_site_plant
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.plant.checks import what_is_missing
from swabwright.plant.registry import load_catalogue

CATALOGUE = load_catalogue()
COOLER = site(7, "evaporator", (15.0, 4.0), zone=2, overhead="cooler")

SILENCES = {
    "routes": (),
    "workstations": (),
    "cleanings": (),
    "lines": (line_a(breaks=(), lots=()),),
    "drains": (tiny_plant().drains[0].model_copy(update={"flow": "unknown"}),),
    "unconfirmed": {"sites[S001].position": "middle of its room"},
}


def asked(**changes):
    return {each.text for each in what_is_missing(tiny_plant(**changes), CATALOGUE)}


@pytest.mark.parametrize("silent", sorted(SILENCES))
def test_answering_one_question_asks_no_other(silent) -> None:
    everything_silent = asked(**SILENCES)
    answered = asked(**{name: value for name, value in SILENCES.items() if name != silent})
    # A drawn route may be drawn through a barrier: that is a new question about the answer itself.
    assert {text for text in answered - everything_silent if "barrier" not in text} == set()


@settings(max_examples=40)
@given(st.sets(st.sampled_from(sorted(SILENCES))))
def test_the_more_is_left_unsaid_the_more_is_asked(silent) -> None:
    some = asked(**{name: SILENCES[name] for name in silent})
    quiet = {text for text in asked() if "barrier" not in text}
    assert quiet <= some


@settings(max_examples=40)
@given(st.sets(st.sampled_from(sorted(SILENCES))))
def test_every_question_has_a_letter_of_its_own_a_place_and_a_remedy(silent) -> None:
    found = what_is_missing(tiny_plant(**{name: SILENCES[name] for name in silent}), CATALOGUE)
    assert len({each.letter for each in found}) == len(found)
    assert all(each.path and each.remedy.endswith(".") and each.text[-1] in ".?" for each in found)


@settings(max_examples=15)
@given(st.permutations(list(twenty_site_plant().sites)))
def test_the_order_of_sites_changes_no_question_about_the_plant(sites) -> None:
    mixed = {
        each.text for each in what_is_missing(twenty_site_plant().model_copy(update={"sites": tuple(sites)}), CATALOGUE)
    }
    assert mixed == {each.text for each in what_is_missing(twenty_site_plant(), CATALOGUE)}


def test_a_site_on_the_cooler_answers_the_question_about_the_cooler() -> None:
    assert asked() - asked(sites=(*tiny_sites(), COOLER)) == {"Air cooler hangs in Slicing, and no site is on it."}


def test_what_is_asked_never_says_that_anything_is_safe_or_clean() -> None:
    words = " ".join(asked(**SILENCES)).lower()
    assert not [banned for banned in ("safe", "cleared", "negative", "caused", "skipped") if banned in words]
