"""What is said of a proposal: computed chances only, in words that may be printed."""

import pytest
from builders.laboratory import results_case
from builders.proposals import bits, material, proposal, sample, way

from swabwright.case.folder import read_case
from swabwright.detection.observed import Observations
from swabwright.errors import SwabwrightError
from swabwright.work.next_results import results_so_far, strain_to_read
from swabwright.work.next_said import next_sentences
from swabwright.work.observations import ResultsRead

LONG = "x" * 390


def said(**changes):
    return " ".join(next_sentences(proposal(**changes)))


def test_a_claim_is_said_with_its_chance_and_its_assumptions():
    assert "named as where it most likely lives (chance above 80 in 100) with a chance of 40 in 100" in said()
    assert "under these assumptions" in said()


def test_samples_that_were_chosen_to_find_it_are_counted_apart():
    assert "1 of them was chosen to find it" in said()
    assert "chosen to find it" not in said(samples=(sample(), sample("S002")))


def test_when_nothing_stands_out_that_is_said_first():
    assert next_sentences(proposal(nothing_stands_out=True))[0].startswith("No sample stands out")


def test_samples_around_a_positive_are_told_with_the_sites_within_the_radius():
    assert "nearest first on foot, 4 sites within 3 m of a detected one" in said()


def test_material_is_told_with_what_either_answer_would_move():
    told = said(materials=(material(), material("product")))
    assert "with material of Line A is 20 in 100" in told
    assert "detected in its product it would be 90 in 100" in told


def test_what_was_not_read_is_said_however_long_it_is():
    sentences = next_sentences(proposal(left_out=(LONG, LONG)))
    assert any(sentence.startswith("Not read") for sentence in sentences)
    assert max(map(len, sentences)) <= 400


@pytest.mark.parametrize("word", ["clean", "cleared", "safe", "negative", "caused"])
def test_no_sentence_uses_a_word_that_must_not_be_said(word):
    assert word not in said(lacking="the results leave 60 effective histories").lower().split()


def test_the_proposal_comes_before_what_stands_beside_it():
    told = said(ways=(way("information", "ours", said=2.5), way("find_any", "Find it anywhere", said=0.5)))
    assert told.index("2.5 of the 3.0 bits") < told.index("'Find it anywhere': 0.5 bits")
    assert bits(2.5).value == 2.5


def test_other_strains_are_mentioned():
    one = proposal().so_far
    assert "told 2 strains apart; this goes by strain b" in said(
        so_far=one.model_copy(update={"strain": "b", "strains": ("a", "b")})
    )
    assert "strains apart" not in said()


def read_of(*strains):
    return ResultsRead({strain: Observations(()) for strain in strains}, (), dict.fromkeys(strains, ()), ())


def test_any_strain_is_read_unless_one_is_asked_for():
    assert strain_to_read(read_of("a", "b", None), None) is None
    assert strain_to_read(read_of("a", "b"), None) == "a"
    assert strain_to_read(read_of("a", "b"), "b") == "b"


def test_a_strain_that_nobody_found_is_refused_with_those_that_were():
    with pytest.raises(SwabwrightError, match="the strains it knows: a, b"):
        strain_to_read(read_of("a", "b"), "c")


def test_a_visit_without_results_before_it_is_refused_with_what_to_do(tmp_path):
    case = read_case(results_case(tmp_path))
    with pytest.raises(SwabwrightError, match="swabwright plan"):
        results_so_far(case, case.visit("visit-1"))
