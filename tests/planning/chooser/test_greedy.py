"""Lazy and plain greedy are one choice, and the order of the items is nobody's business."""

from dataclasses import replace

import numpy as np
import pytest
from builders.choices import free_problem, shuffled, small_problem, wide_problem
from hypothesis import given
from hypothesis import strategies as st

from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import prepare
from swabwright.planning.feasible import Limits
from swabwright.planning.greedy import By, lazy_greedy, plain_greedy
from swabwright.planning.problem import Problem

seeds = st.integers(0, 10_000)
WAYS: tuple[By, ...] = ("gain", "rate")


def both_ways(problem: Problem, by: By) -> tuple[list[int], list[int]]:
    """Items by lazy and by plain greedy, in the order taken."""
    finds, limits = prepare(problem), Limits(problem)
    lazy = lazy_greedy(Draft(finds), limits, by)
    plain = plain_greedy(Draft(finds), limits, by)
    return lazy.items, plain.items


@pytest.mark.parametrize("by", WAYS)
@given(seed=seeds)
def test_lazy_and_plain_agree_with_charges_on(by: By, seed: int) -> None:
    lazy, plain = both_ways(small_problem(seed), by)
    assert lazy == plain


@pytest.mark.parametrize("by", WAYS)
def test_lazy_and_plain_agree_on_a_whole_plant(by: By) -> None:
    lazy, plain = both_ways(wide_problem(3), by)
    assert lazy == plain
    assert len(lazy) >= 10


@pytest.mark.parametrize("by", WAYS)
@given(seed=seeds)
def test_lazy_and_plain_agree_where_devices_share_a_site(by: By, seed: int) -> None:
    problem = small_problem(seed)
    shared = replace(problem, mode=np.zeros(problem.tie.size, dtype=np.int32), groups=())
    lazy, plain = both_ways(shared, by)
    assert lazy == plain


@given(seed=seeds)
def test_order_of_items_changes_nothing(seed: int) -> None:
    problem = small_problem(seed)
    mixed, places = shuffled(problem, seed)
    lazy, _plain = both_ways(problem, "rate")
    mixed_lazy, _plain = both_ways(mixed, "rate")
    assert [int(places[item]) for item in mixed_lazy] == lazy


def test_equal_gains_go_to_the_smaller_tie_key() -> None:
    problem = replace(free_problem(5), count=1)
    twins = np.tile(problem.cells[4], (problem.tie.size, 1))
    lazy, plain = both_ways(replace(problem, cells=twins), "gain")
    assert lazy == plain == [int(np.argmin(problem.tie))]


def test_nothing_is_taken_where_nothing_can_be_found() -> None:
    problem = free_problem(5)
    lazy, plain = both_ways(replace(problem, cells=np.zeros_like(problem.cells)), "gain")
    assert lazy == plain == []


def test_minimums_are_kept_even_where_nothing_can_be_found() -> None:
    problem = small_problem(5)
    lazy, plain = both_ways(replace(problem, cells=np.zeros_like(problem.cells)), "gain")
    assert lazy == plain
    assert Limits(problem).kept(lazy)


def test_greedy_starts_with_the_largest_single_chance() -> None:
    problem = free_problem(2)
    alone = prepare(problem).chance.astype(float) @ problem.weight
    lazy, _plain = both_ways(problem, "gain")
    assert lazy[0] == int(np.argmax(alone))
