"""The rows of the pocket table: drawn, rounded and weighted so that what matters agrees with all rows."""

from dataclasses import replace

import numpy as np
import pytest
from builders.pockets import greedy_plan, pocket_problem
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.planning import pocket_rows
from swabwright.planning.choose_finds import evaluate, prepare
from swabwright.planning.pocket import _whole_weights
from swabwright.planning.pocket_rows import LARGEST_EXPONENT, few_rows, item_exponents
from swabwright.planning.pocket_table import WEIGHTS

LAW = settings(deadline=None, derandomize=True, max_examples=40)
DRAWN, PROBLEM = pocket_problem(sites=30, rows=2000)
FINDS = prepare(PROBLEM)
PLAN = greedy_plan(FINDS, 8)
ITEMS = [*PLAN, *(n for n in range(30) if n not in PLAN)]
FEW = few_rows(FINDS, PLAN, ITEMS, 300)


def left_silent(items):
    """What the few rows say is left silent by places of the table."""
    return float(np.exp(-FEW.step * FEW.exponents[list(items)].sum(axis=0, dtype=float)) @ FEW.weight)


def truly_silent(items):
    return 1.0 - float(evaluate(PROBLEM, [ITEMS[n] for n in items]) @ PROBLEM.weight)


@pytest.mark.parametrize("place", range(30))
def test_every_single_item_agrees_with_all_rows(place):
    assert left_silent([place]) == pytest.approx(truly_silent([place]), abs=1e-3)


@pytest.mark.parametrize("without", range(8))
def test_the_plan_without_one_agrees_with_all_rows(without):
    kept = [n for n in range(8) if n != without]
    assert left_silent(kept) == pytest.approx(truly_silent(kept), abs=1e-3)


def test_weights_are_positive_and_make_up_the_whole():
    assert FEW.weight.min() > 0
    assert FEW.weight.sum() == pytest.approx(1.0)
    assert len(FEW.weight) <= 300


def test_exponents_are_what_each_item_leaves_silent():
    exponents = item_exponents(FINDS, PLAN, ITEMS)
    assert np.exp(-exponents[0]) == pytest.approx(1.0 - FINDS.chance[PLAN[0]], abs=1e-6)


def test_a_second_planned_item_at_a_site_counts_only_what_it_adds():
    twins = replace(PROBLEM, site=np.where(np.arange(30) == PLAN[1], PROBLEM.site[PLAN[0]], PROBLEM.site))
    exponents = item_exponents(prepare(twins), PLAN, PLAN)
    together = 1.0 - evaluate(twins, PLAN[:2])
    assert np.exp(-exponents[:2].sum(axis=0)) == pytest.approx(together, abs=1e-6)
    assert (exponents[1] <= item_exponents(FINDS, PLAN, PLAN)[1] + 1e-6).all()


def test_an_item_that_leaves_almost_nothing_is_capped():
    sure = replace(PROBLEM, unexplained=0.0, sigma=0.1, cells=np.full_like(PROBLEM.cells, 500.0))
    assert item_exponents(prepare(sure), [], [0]).max() == pytest.approx(LARGEST_EXPONENT, abs=1e-3)


@LAW
@given(st.integers(0, 99), st.integers(1, 20), st.floats(0.001, 2.0))
def test_rounded_sums_stay_within_a_step_of_the_exact_ones(seed, items, size):
    exponents = np.random.default_rng(seed).gamma(0.3, size, (items, 50))
    step = max(exponents.max(), 1e-6) / 255
    steps = pocket_rows._whole_steps(exponents, step)
    summed = np.cumsum(steps, axis=0, dtype=float) * step
    assert np.abs(summed - np.cumsum(exponents, axis=0)).max() <= 1.01 * step


def test_exponents_far_below_a_step_are_not_lost():
    # 40 items at a tenth of a step each: four steps in all, not none
    steps = pocket_rows._whole_steps(np.full((40, 200), 0.1), 1.0)
    assert steps.sum(axis=0).mean() == pytest.approx(4.0, abs=0.3)


@LAW
@given(st.integers(0, 99), st.integers(1, 80))
def test_rows_are_drawn_as_often_as_they_weigh(seed, count):
    random = np.random.default_rng(seed)
    weight = random.gamma(0.5, 1.0, 40)
    weight /= weight.sum()
    rows, drawn = pocket_rows._drawn(random.uniform(0, 3, 40), weight, count)
    assert drawn.sum() == pytest.approx(1.0)
    assert np.abs(drawn - weight[rows]).max() <= 1.0 / count + 1e-9


@LAW
@given(st.integers(0, 99), st.integers(1, 300))
def test_whole_weights_differ_from_the_exact_ones_by_less_than_one(seed, rows):
    weight = np.random.default_rng(seed).gamma(0.5, 1.0, rows)
    weight /= weight.sum()
    whole = _whole_weights(weight)
    assert int(whole.astype(np.int64).sum()) == WEIGHTS
    assert np.abs(whole - weight * WEIGHTS).max() <= 1.0
