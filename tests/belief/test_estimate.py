"""Ranges of chances: between copies, within them, and under other assumptions."""

from dataclasses import replace

import numpy as np
import pytest
from builders.banks import random_bank
from builders.known import tiny_known
from builders.priors import prior_over
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.belief.believe import Belief, at_end, believe, items_under
from swabwright.belief.draw import draw_rows
from swabwright.belief.estimate import (
    Alternative,
    alternatives_of,
    chance,
    chance_of_finding,
    chance_of_hitting,
)
from swabwright.belief.outcome import find_chances
from swabwright.belief.spread_of import spread_of
from swabwright.case.plan import Chance
from swabwright.detection.choices import build_items

BANK = random_bank(histories=200, sites=8)
ROWS = draw_rows(BANK, prior_over(BANK), 4000, seed=5)
KNOWN = tiny_known()
BELIEF = believe(KNOWN, 2500)
ITEMS = tuple(item for item in build_items(KNOWN.setting, KNOWN.bank) if item.device == "SP")[:6]


def by_copy(effect: float) -> np.ndarray:
    """Per-row chances that differ between copies by an effect, and a little within."""
    level = np.random.default_rng(1).normal(size=20)[ROWS.copy]
    noise = np.random.default_rng(2).normal(size=len(ROWS))
    return 1 / (1 + np.exp(-(1.0 + effect * level + 0.3 * noise)))


def test_without_any_difference_the_range_is_the_value() -> None:
    spread = spread_of(np.full(len(ROWS), 0.4), ROWS)
    assert (spread.low, spread.value, spread.high) == pytest.approx((0.4, 0.4, 0.4), abs=1e-6)


def test_differences_between_copies_widen_the_range() -> None:
    narrow, wide = spread_of(by_copy(0.1), ROWS), spread_of(by_copy(1.0), ROWS)
    assert wide.high - wide.low > 3 * (narrow.high - narrow.low)


def test_range_recovers_the_spread_between_copies() -> None:
    # Copy effects with standard deviation s on the logit scale: half the range is 1.33 sqrt(s^2 + v), v about s^2 / 20.
    spread = spread_of(by_copy(1.0), ROWS)
    half = (np.log(spread.high / (1 - spread.high)) - np.log(spread.low / (1 - spread.low))) / 2
    sd = np.random.default_rng(1).normal(size=20).std(ddof=1)
    assert half == pytest.approx(1.33 * np.sqrt(sd**2 * 1.05), rel=0.15)


def test_noise_within_copies_is_not_taken_for_structure() -> None:
    noise = np.random.default_rng(3).uniform(0.2, 0.6, len(ROWS))
    spread = spread_of(noise, ROWS)
    assert spread.high - spread.low < 0.03


def test_few_copies_make_the_range_uncertain() -> None:
    few = replace(ROWS, weight=np.where(ROWS.copy < 5, ROWS.weight, 0.0))
    assert "structural copies" in str(spread_of(by_copy(0.3), few).uncertain)


def test_few_hypotheses_a_copy_make_the_range_uncertain() -> None:
    place = np.argsort(np.argsort(ROWS.copy, kind="stable"))
    weight = np.where(place % 10 == 0, 1.0, 1e-9)
    uncertain = spread_of(by_copy(0.3), replace(ROWS, weight=weight)).uncertain
    assert "hypotheses a copy" in str(uncertain)


def test_an_uncertain_range_says_so_in_its_basis() -> None:
    few = replace(ROWS, weight=np.where(ROWS.copy < 5, ROWS.weight, 0.0))
    assert "range uncertain" in chance(by_copy(0.3), few, "invented").basis


@given(st.lists(st.floats(0, 1), min_size=1, max_size=4))
@settings(deadline=None, derandomize=True, max_examples=25)
def test_alternatives_only_ever_widen_a_range(values: list[float]) -> None:
    others = [Alternative("other", value) for value in values]
    plain, wide = chance(by_copy(0.3), ROWS, "invented"), chance(by_copy(0.3), ROWS, "invented", others)
    assert wide.low <= min(plain.low, *values)
    assert wide.high >= max(plain.high, *values)
    assert wide.value == plain.value


def test_alternatives_are_named_in_the_basis() -> None:
    assert "recovery low (20)" in chance(by_copy(0), ROWS, "x", [Alternative("recovery low", 0.2)]).basis


@pytest.mark.parametrize("kind", [chance_of_finding, chance_of_hitting])
def test_a_plan_has_its_chance_with_range_and_basis(kind: object) -> None:
    found = kind(BELIEF, ITEMS)  # type: ignore[operator]
    assert isinstance(found, Chance)
    assert found.low <= found.value <= found.high
    assert "recovery low" in found.basis
    assert "30 in 100 of the prior even" in found.basis


def test_hitting_is_never_likelier_than_finding() -> None:
    assert chance_of_hitting(BELIEF, ITEMS).value <= chance_of_finding(BELIEF, ITEMS).value


def test_adding_a_sample_never_lowers_the_chance_of_finding() -> None:
    values = [chance_of_finding(BELIEF, ITEMS[:count]).value for count in range(1, len(ITEMS) + 1)]
    assert values == sorted(values)


def test_low_recovery_lowers_the_chance_of_finding() -> None:
    low, high, *_ = alternatives_of(BELIEF, _finding)
    assert low.value < high.value


def _finding(belief: Belief) -> np.ndarray:
    return find_chances(belief.known, belief.rows, items_under(belief.known, ITEMS))


def test_a_figure_without_a_range_stays_where_it_is() -> None:
    figures = KNOWN.figures
    name = "background.beta_a"
    assert at_end(figures, (name,), "low").number(name) == figures.number(name)


def test_a_copy_with_hardly_any_weight_does_not_decide_the_range():
    faint = np.where(ROWS.copy == 0, ROWS.weight, np.where(ROWS.copy == 1, 1e-20, 0.0))
    spread = spread_of(by_copy(1.0), replace(ROWS, weight=faint))
    assert 0 < spread.low <= spread.value <= spread.high < 1
    assert spread.uncertain is not None
