"""Laws of the drawn hypothesis rows."""

from dataclasses import replace

import numpy as np
import pytest
from builders.banks import random_bank
from builders.priors import prior_over

from swabwright.belief.draw import draw_rows

BANK = random_bank(histories=40, sites=10)
PRIOR = prior_over(BANK)
ROWS = draw_rows(BANK, PRIOR, 6000, seed=11)


def test_weights_sum_to_one() -> None:
    assert ROWS.weight.sum() == pytest.approx(1.0, abs=1e-12)
    assert (ROWS.weight > 0).all()


def test_number_of_niches_has_its_prior() -> None:
    count = (ROWS.sources >= 0).sum(axis=1)
    assert [ROWS.weight[count == niches].sum() for niches in (1, 2, 3)] == pytest.approx(list(PRIOR.niches))


def test_single_niches_have_exactly_their_prior_weights() -> None:
    single = (ROWS.sources >= 0).sum(axis=1) == 1
    shares = np.bincount(ROWS.sources[single, 0], ROWS.weight[single], len(PRIOR.weight))
    assert shares == pytest.approx(PRIOR.niches[0] * PRIOR.weight, rel=1e-9)


def test_pairs_follow_the_product_of_their_weights() -> None:
    pairs = (ROWS.sources >= 0).sum(axis=1) == 2
    first = np.bincount(ROWS.sources[pairs, 0], ROWS.weight[pairs], len(PRIOR.weight)) / PRIOR.niches[1]
    expected = PRIOR.weight * (1 - PRIOR.weight) / PRIOR.pair_sum
    assert first == pytest.approx(expected, abs=0.02)


def test_niches_of_a_row_are_at_different_sources() -> None:
    assert all(len(set(row[row >= 0])) == (row >= 0).sum() for row in ROWS.sources)


def test_every_source_is_represented() -> None:
    assert set(ROWS.sources[:, 0]) == set(range(len(BANK.source_names)))


def test_structural_copies_are_used_alike() -> None:
    shares = np.bincount(ROWS.copy, ROWS.weight)
    assert shares.max() < 1.25 * shares.min()


def test_reordering_sources_changes_nothing_bit_for_bit() -> None:
    turn = np.arange(len(BANK.source_names))[::-1]
    names = tuple(BANK.source_names[place] for place in turn)
    turned = replace(PRIOR, source_names=names, weight=PRIOR.weight[turn])
    rows = draw_rows(replace(BANK, source_names=names), turned, 6000, seed=11)
    back = np.where(rows.sources >= 0, turn[rows.sources], -1)
    assert (back == ROWS.sources).all()
    assert (rows.history == ROWS.history).all()
    assert (rows.weight == ROWS.weight).all()


def test_another_seed_draws_other_rows() -> None:
    other = draw_rows(BANK, PRIOR, 6000, seed=12)
    assert (other.history[:4000] != ROWS.history[:4000]).mean() > 0.5


def test_only_possible_sources_are_drawn() -> None:
    possible = np.zeros(len(BANK.source_names), bool)
    possible[[2, 5]] = True
    rows = draw_rows(BANK, PRIOR.given(possible), 500, seed=1)
    assert set(rows.sources[rows.sources >= 0]) == {2, 5}


def test_a_single_possible_source_leaves_single_niches() -> None:
    possible = np.arange(len(BANK.source_names)) == 3
    rows = draw_rows(BANK, PRIOR.given(possible), 500, seed=1)
    assert (rows.sources[:, 0] == 3).all()
    assert (rows.sources[:, 1:] == -1).all()
