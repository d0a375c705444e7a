"""Scores of forecasts: their values by hand, and that a forecaster who knows the chances comes out calibrated."""

from dataclasses import replace
from math import log

import numpy as np
import pytest
from builders.forecasts import forecast, honest_forecasts
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.inference.calibration import brier, coverage, covered, log_score, mean_of
from swabwright.inference.calibration_bins import LEAST_FORECASTS, largest_error, reliability
from swabwright.inference.calibration_claims import claim, claims

LEVELS = (0.5, 0.8, 0.95)
HONEST = honest_forecasts(600)


def overconfident(one):
    """The same forecaster, squaring its odds."""
    share = one.share**2 / (one.share**2).sum()
    return replace(one, share=share, marginal=share)


@pytest.mark.parametrize("level", LEVELS)
def test_a_forecaster_who_knows_the_chances_is_covered_as_it_says(level):
    held = coverage(HONEST, level)
    assert abs(held.value - level) < 3 * held.error


def test_an_overconfident_forecaster_is_covered_too_seldom():
    held = coverage([overconfident(one) for one in HONEST], 0.8)
    assert held.value < 0.8 - 4 * held.error


def test_scores_prefer_the_forecaster_who_knows_the_chances():
    worse = [overconfident(one) for one in HONEST]
    assert brier(HONEST).value < brier(worse).value
    assert log_score(HONEST).value < log_score(worse).value


def test_the_place_at_the_edge_belongs_to_the_set_in_part():
    one = forecast((0.6, 0.3, 0.1), (1,))
    assert [covered(one, level) for level in (0.5, 0.75, 0.95)] == pytest.approx([0.0, 0.5, 1.0])


def test_places_with_one_share_are_in_the_set_alike():
    both = [covered(forecast((0.4, 0.3, 0.3), (niche,)), 0.7) for niche in (1, 2)]
    assert both == pytest.approx([0.5, 0.5])


def test_two_niches_count_as_one_picked_at_random():
    assert covered(forecast((0.6, 0.3, 0.1), (0, 2)), 0.9) == pytest.approx(0.5)


def test_brier_sums_squares_over_places():
    assert brier([forecast((0.6, 0.3, 0.1), (0,))]).value == pytest.approx(0.16 + 0.09 + 0.01)


def test_log_score_is_the_log_of_the_true_places_share_and_never_without_end():
    known, surprise = forecast((0.25, 0.75), (0,)), forecast((0.0, 1.0), (0,))
    assert log_score([known]).value == pytest.approx(-log(0.25))
    assert log_score([surprise]).value == pytest.approx(6 * log(10))


def test_truths_of_one_plant_that_agree_are_fewer_than_they_look():
    values = [0.0] * 20 + [1.0] * 20
    alike = mean_of(values, ["one"] * 20 + ["two"] * 20).error
    assert alike > 4 * mean_of(values, [str(place) for place in range(40)]).error


@settings(deadline=None, derandomize=True)
@given(st.lists(st.floats(0, 1), min_size=2, max_size=30), st.data())
def test_the_order_of_investigations_moves_no_score(values, data):
    clusters = [f"plant {place % 3}" for place in range(len(values))]
    order = data.draw(st.permutations(range(len(values))))
    again = mean_of([values[at] for at in order], [clusters[at] for at in order])
    first = mean_of(values, clusters)
    assert (again.value, again.error) == pytest.approx((first.value, first.error), abs=1e-12)


@settings(deadline=None, derandomize=True)
@given(st.integers(0, 599), st.permutations(range(12)))
def test_renaming_places_changes_no_coverage(number, order):
    one = HONEST[number]
    niches = tuple(order.index(niche) for niche in one.niches)
    renamed = replace(one, share=one.share[list(order)], niches=niches)
    assert [covered(renamed, level) for level in LEVELS] == pytest.approx([covered(one, level) for level in LEVELS])


def test_bins_hold_enough_and_every_chance_once():
    bins = reliability(HONEST)
    assert min(one.observed.count for one in bins) >= LEAST_FORECASTS
    assert sum(one.observed.count for one in bins) == 600 * 12


def test_the_largest_error_of_an_honest_forecaster_is_what_chance_shows():
    worst = largest_error(HONEST)
    assert worst.value <= worst.by_chance_high
    assert worst.value == pytest.approx(max(one.error for one in reliability(HONEST)))


def test_the_largest_error_of_an_overconfident_forecaster_is_not():
    worst = largest_error([overconfident(one) for one in HONEST])
    assert worst.value > worst.by_chance_high


def test_a_claim_is_made_above_the_bar_only():
    one = forecast((0.85, 0.15), (0,))
    assert (claim(one, 0.8), claim(one, 0.9)) == (0, None)


def test_claims_are_right_or_wrong_and_in_the_room_or_not():
    made = [forecast((0.9, 0.05, 0.05), (niche,)) for niche in (0, 1, 2)] + [forecast((0.4, 0.3, 0.3), (0,))]
    held = claims(made, [("hall", "hall", "store")] * 4, 0.8)
    assert held.localised.value == pytest.approx(1 / 4)
    assert (held.wrong.value, held.wrong_room.value) == pytest.approx((2 / 3, 1 / 3))
    assert held.first_is_niche.value == pytest.approx(2 / 4)


def test_an_unexplained_miss_of_all_places_is_no_coverage():
    assert covered(forecast((1.0, 0.0), (1,)), 0.95) == 0.0
    assert np.isnan(mean_of([1.0], ["plant"]).error)
