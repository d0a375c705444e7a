"""Media against residues: the weakest cell decides."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.plant.media import best_medium, medium_fit
from swabwright.plant.registry import load_catalogue

CATALOGUE = load_catalogue()
CHEMISTRIES = sorted(CATALOGUE.chemistries)


def kept(medium, chemistry):
    return CATALOGUE.figures.number(f"medium.{medium}.{chemistry}")


def test_every_medium_is_judged_against_every_chemistry() -> None:
    assert len(CATALOGUE.media) == 5
    assert all(f"medium.{medium}.{name}" in CATALOGUE.figures for medium in CATALOGUE.media for name in CHEMISTRIES)


def test_letheen_fails_against_quat_of_floor_strength_though_it_manages_the_usual() -> None:
    # BMC Microbiology 2020;20:333: all three broths alike at 400 ppm, letheen broth failed at 8000 ppm.
    assert medium_fit("letheen_broth", ["quat_normal"], CATALOGUE).share_kept == 1
    assert medium_fit("letheen_broth", ["quat_normal", "quat_floor"], CATALOGUE).share_kept == 0.1


def test_the_weakest_residue_is_named_with_a_caution() -> None:
    fit = medium_fit("neutralising_buffer", ["quat_normal", "paa"], CATALOGUE)
    assert fit.weakest == "paa"
    assert fit.caution is not None
    assert "only in part" in fit.caution


@given(st.lists(st.sampled_from(CHEMISTRIES), min_size=1, max_size=5), st.sampled_from(sorted(CATALOGUE.media)))
def test_no_cell_is_weaker_than_the_one_that_decides(chemistries, medium) -> None:
    fit = medium_fit(medium, chemistries, CATALOGUE)
    assert fit.share_kept == min(kept(medium, name) for name in chemistries)


@given(st.lists(st.sampled_from(CHEMISTRIES), max_size=5))
def test_no_other_medium_does_better_than_the_best(chemistries) -> None:
    best = best_medium(chemistries, CATALOGUE)
    assert all(medium_fit(medium, chemistries, CATALOGUE).share_kept <= best.share_kept for medium in CATALOGUE.media)


def test_an_unknown_chemical_asks_for_it_and_falls_back_on_a_broad_broth() -> None:
    best = best_medium(["unknown"], CATALOGUE)
    assert best.medium in ("de_broth", "bpw_fortified")
    assert best.caution is not None
    assert "ask for chemical and strength" in best.caution


def test_no_residue_needs_no_caution() -> None:
    assert medium_fit("de_broth", [], CATALOGUE).caution is None


def test_quat_of_floor_strength_is_met_by_the_broth_that_was_tested_on_it() -> None:
    assert best_medium(["quat_floor"], CATALOGUE).medium == "de_broth"


@pytest.mark.parametrize(("medium", "chemistry", "words"), [
    ("de_brot", "none", "no medium 'de_brot'; did you mean 'de_broth'"),
    ("de_broth", "quat", "no chemistry 'quat'"),
])  # fmt: skip
def test_an_unknown_name_is_refused(medium, chemistry, words) -> None:
    with pytest.raises(SwabwrightError, match=words):
        medium_fit(medium, [chemistry], CATALOGUE)
