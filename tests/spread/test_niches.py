"""Niches grow and shed, surfaces give and keep, in steps whose length does not matter."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.spread.factors import split, survives_carry_off
from swabwright.spread.niches import niche_step, rise

rates = st.floats(0.0, 3.0)
levels = st.floats(0.0, 1.0)
PARTS = [3, 12]


def step(level, growth, shed):
    a = growth - shed
    return niche_step(level, growth, shed, rise(a), np.exp(a))


def in_parts(level, growth, shed, parts):
    total = 0.0
    for _ in range(parts):
        level, given_off = step(level, growth / parts, shed / parts)
        total += given_off
    return level, total


@pytest.mark.parametrize("parts", PARTS)
@given(level=levels, growth=rates, shed=rates)
def test_one_day_equals_three_shifts_and_twelve_short_slots(parts, level, growth, shed):
    whole = in_parts(level, growth, shed, 1)
    np.testing.assert_allclose(in_parts(level, growth, shed, parts), whole, rtol=1e-6, atol=1e-9)


@given(level=levels, growth=rates, shed=rates)
def test_a_niche_stays_between_empty_and_full(level, growth, shed):
    after, given_off = step(level, growth, shed)
    assert 0.0 <= after <= 1.0
    assert given_off >= 0.0


def test_a_niche_that_does_not_grow_loses_exactly_what_it_sheds():
    # 1 - e^-0.5 = 0.3935 of a niche of 0.8 is shed.
    after, given_off = step(0.8, 0.0, 0.5)
    assert given_off == pytest.approx(0.8 * 0.39347, rel=1e-4)
    assert after + given_off == pytest.approx(0.8, rel=1e-9)


def test_growth_alone_follows_the_logistic_law():
    # From 0.1 with growth 2: 0.1 e^2 / (1 + 0.1 (e^2 - 1)) = 0.73891 / 1.63891.
    assert step(0.1, 2.0, 0.0)[0] == pytest.approx(0.45086, rel=1e-4)


def split_of_old(eta, kappa):
    return split(eta, kappa)[:2]


def split_of_fresh(eta, kappa):
    return split(eta, kappa)[2:]


@pytest.mark.parametrize("parts", PARTS)
@given(eta=rates, kappa=rates)
def test_what_stays_is_the_same_in_one_slot_or_many(parts, eta, kappa):
    stays, _ = split_of_old(eta, kappa)
    assert split_of_old(eta / parts, kappa / parts)[0] ** parts == pytest.approx(stays, rel=1e-9)


@given(eta=rates, kappa=rates)
def test_all_that_lay_there_stays_moves_or_goes_with_the_product(eta, kappa):
    stays, moved = split_of_old(eta, kappa)
    assert stays + moved * (eta + kappa) == pytest.approx(1.0, rel=1e-9)


@given(eta=rates, kappa=rates)
def test_all_that_was_shed_stays_moves_or_goes_with_the_product(eta, kappa):
    stays, moved = split_of_fresh(eta, kappa)
    assert stays + moved * (eta + kappa) == pytest.approx(1.0, rel=1e-7)


@pytest.mark.parametrize("parts", PARTS)
@given(eta=rates, kappa=rates)
def test_what_is_shed_through_a_day_is_left_alike_for_any_slots(parts, eta, kappa):
    # Each of the parts receives its share fresh and loses what lay there before.
    whole, _ = split_of_fresh(eta, kappa)
    left = 0.0
    for _ in range(parts):
        left = left * split_of_old(eta / parts, kappa / parts)[0]
        left += split_of_fresh(eta / parts, kappa / parts)[0] / parts
    assert left == pytest.approx(whole, rel=1e-6)


def test_without_product_what_arrives_stays():
    assert survives_carry_off(0.0) == 1.0
    assert survives_carry_off(1.0) == pytest.approx(1 - np.exp(-1))
