"""Identifiers, and which known name somebody meant."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.plant.imports.names import find_name, make_id, plain_name

ROOMS = {"slicing-hall": "Slicing hall", "raw-intake": "Raw intake", "line-a": "Line A", "line-b": "Line B"}


@pytest.mark.parametrize(
    ("name", "identifier"),
    [("Slicing Hall", "slicing-hall"), ("Räucherei (alt)", "raucherei-alt"), ("  104 / Packing ", "104-packing")],
)
def test_an_identifier_is_the_name_in_plain_letters(name, identifier):
    assert make_id(name, [], "room") == identifier


def test_an_identifier_already_taken_is_numbered():
    assert make_id("Cold store", ["cold-store", "cold-store-2"], "room") == "cold-store-3"


def test_a_name_without_any_letter_takes_the_fallback():
    assert make_id("***", [], "room") == "room"


@given(st.lists(st.text(max_size=80), max_size=6))
def test_identifiers_are_always_valid_and_never_repeat(names):
    taken: list[str] = []
    for name in names:
        taken.append(make_id(name, taken, "thing"))
    assert len(set(taken)) == len(taken)
    assert all(re.fullmatch(r"[a-z0-9][a-z0-9_-]{0,63}", each) for each in taken)


@pytest.mark.parametrize(
    ("text", "identifier", "score"),
    [("slicing HALL", "slicing-hall", 100), ("raw-intake", "raw-intake", 100), ("Slicing", "slicing-hall", 95)],
)
def test_a_name_is_found_whatever_its_case_or_when_a_word_is_left_out(text, identifier, score):
    match = find_name(text, ROOMS, 85)
    assert match is not None
    assert (match.id, match.score) == (identifier, score)


def test_a_misspelt_name_is_found_with_a_lower_score():
    match = find_name("Slicng hall", ROOMS, 85)
    assert match is not None
    assert match.id == "slicing-hall"
    assert 85 <= match.score < 100


@pytest.mark.parametrize("text", ["Bakery", "", "Line C", "Line"])
def test_a_name_that_fits_nothing_or_two_things_is_not_found(text):
    assert find_name(text, ROOMS, 85) is None


def test_letters_and_numbers_that_differ_tell_two_things_apart():
    assert find_name("Chill 2", {"chill-1": "Chill 1"}, 50) is None


def test_nothing_is_found_among_no_names():
    assert find_name("Slicing", {}, 85) is None


@given(st.sampled_from(sorted(ROOMS)))
def test_every_thing_is_found_by_its_own_name_and_id(identifier):
    assert find_name(ROOMS[identifier], ROOMS, 100) == find_name(identifier, ROOMS, 100)


def test_names_are_compared_without_marks():
    assert plain_name("Cold-store (No. 2)") == "cold store no 2"
