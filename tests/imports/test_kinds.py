"""A plant's own words for kinds of site."""

import pytest
from builders.imports import aside, imported, plant_of, said
from hypothesis import given
from hypothesis import strategies as st

from swabwright.plant.imports.kinds import match_kind
from swabwright.plant.registry import load_catalogue

CATALOGUE = load_catalogue()
TYPES = sorted(CATALOGUE.site_types)


def _sites(kind, name="Somewhere"):
    return {"Sites": [["Code", "Description", "Type", "Room"], ["S001", name, kind, "Slicing"]]}


@given(st.sampled_from(TYPES))
def test_every_site_type_is_found_by_its_own_name(identifier):
    match = match_kind(CATALOGUE.site_types[identifier].name, CATALOGUE)
    assert (match.type, match.score) == (identifier, 100)


@pytest.mark.parametrize(
    ("words", "identifier"),
    [
        ("FLOOR DRAINS", "drain_channel"),
        ("Floor drain no. 4", "drain_channel"),
        ("drain flor", "drain_channel"),
        ("Slicer blade (outer)", "slicer_blade"),
        ("Trolley wheels", "cart_wheel"),
        ("Cold room door seal", "door_seal"),
    ],
)
def test_plural_order_extra_words_and_misspelling_do_not_hide_a_type(words, identifier):
    match = match_kind(words, CATALOGUE)
    assert match.type == identifier
    assert match.score >= 72


def test_the_score_falls_with_every_word_that_says_nothing():
    scores = [
        match_kind(words, CATALOGUE).score for words in ("floor drain", "floor drain old", "floor drain old left")
    ]
    assert scores == sorted(scores, reverse=True)
    assert len(set(scores)) == 3


def test_a_kind_that_fits_is_shown_with_its_score(tmp_path):
    outcome = imported(tmp_path, book=_sites("Floor drain, old"))
    assert any("'Floor drain, old' is taken for site type drain_channel (score 9" in each for each in outcome.guesses)
    assert outcome.assumptions["sites[S001].type"].startswith("'Floor drain, old' fits with a score of")


def test_without_a_kind_the_sites_name_is_matched(tmp_path):
    rows = [["Code", "Description", "Room"], ["S001", "Floor drain", "Slicing"]]
    assert plant_of(imported(tmp_path, book={"Sites": rows})).sites[0].type == "drain_channel"


def test_a_kind_nobody_knows_is_matched_by_kind_and_name_together(tmp_path):
    plant = plant_of(imported(tmp_path, book=_sites("Wet spot", "Floor drain channel")))
    assert plant.sites[0].type == "drain_channel"


def test_words_that_fit_no_type_are_held_apart_and_stop_the_import(tmp_path):
    outcome = imported(tmp_path, book=_sites("Xylophone"))
    assert outcome.plant is None
    assert "row 2: no site type fits 'Xylophone'" in said(outcome)
    assert '[kinds] "Xylophone" =' in said(outcome)


def test_the_mapping_can_say_which_type_is_meant(tmp_path):
    plant = plant_of(imported(tmp_path, book=_sites("Xylophone"), kinds={"xylophone": "boot_wash"}))
    assert plant.sites[0].type == "boot_wash"
    assert "sites[S001].type" not in plant.unconfirmed


def test_the_mapping_can_leave_a_kind_out(tmp_path):
    rows = [*_sites("Xylophone")["Sites"], ["S002", "By the door", "Floor drain", "Slicing"]]
    outcome = imported(tmp_path, book={"Sites": rows}, kinds={"Xylophone": "leave out"})
    assert [site.code for site in plant_of(outcome).sites] == ["S002"]
    assert "'Xylophone': the mapping leaves this kind out" in aside(outcome)


def test_a_mapping_to_a_type_that_is_none_is_a_fault(tmp_path):
    outcome = imported(tmp_path, book=_sites("Xylophone"), kinds={"Xylophone": "xylophone_bar"})
    assert "no site type 'xylophone_bar' in the catalogue" in said(outcome)
