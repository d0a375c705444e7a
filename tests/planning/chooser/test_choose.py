"""The whole choice: every limit kept, must and never obeyed, nothing hanging on the order of the items."""

from dataclasses import replace

import numpy as np
import pytest
from builders.choices import best_by_trying_all, free_problem, shuffled, small_problem, wide_problem
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.planning.choose import choose
from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import prepare
from swabwright.planning.choose_minutes import marginal_minutes, minutes_of
from swabwright.planning.feasible import Limits
from swabwright.planning.greedy import lazy_greedy

seeds = st.integers(0, 10_000)


@settings(max_examples=30)
@given(seed=seeds)
def test_every_limit_is_kept(seed: int) -> None:
    problem = small_problem(seed)
    choice = choose(problem)
    assert Limits(problem).kept(choice.items)
    assert choice.minutes == pytest.approx(minutes_of(problem, choice.items))


@settings(max_examples=30)
@given(seed=seeds, site=st.integers(0, 7))
def test_a_must_is_taken_and_a_never_is_not(seed: int, site: int) -> None:
    problem = small_problem(seed)
    must, never = np.arange(8) == site, np.arange(8) == (site + 1) % 8
    choice = choose(replace(problem, must=must, never=never, groups=()))
    sites = set(problem.site[list(choice.items)].tolist())
    assert site in sites
    assert (site + 1) % 8 not in sites


@settings(max_examples=20)
@given(seed=seeds)
def test_listing_the_items_in_another_order_changes_no_choice(seed: int) -> None:
    problem = small_problem(seed)
    mixed, places = shuffled(problem, seed)
    assert [int(places[item]) for item in choose(mixed).items] == list(choose(problem).items)


@settings(max_examples=20)
@given(seed=seeds)
def test_more_minutes_or_samples_never_find_less_than_greedy_did(seed: int) -> None:
    problem = small_problem(seed)
    limits = Limits(problem)
    greedy = lazy_greedy(Draft(prepare(problem)), limits, "gain")
    assert choose(problem).found >= greedy.value - 1e-6


def test_only_one_mode_of_a_site_is_taken() -> None:
    problem = replace(free_problem(3), count=8)
    sites = problem.site[list(choose(problem).items)].tolist()
    assert len(sites) == len(set(sites)) == 8


def test_devices_of_one_mode_may_share_a_site() -> None:
    problem = free_problem(3)
    cells = np.zeros_like(problem.cells)
    cells[[0, 1]] = 1.0
    shared = replace(problem, cells=cells, mode=np.zeros(12, dtype=np.int32), count=3)
    assert set(choose(shared).items) == {0, 1}
    assert len(choose(replace(shared, mode=None)).items) == 1


def test_gains_add_up_to_the_chance_and_fall() -> None:
    choice = choose(wide_problem(2))
    assert sum(choice.gains) == pytest.approx(choice.found)
    assert all(first >= second - 1e-9 for first, second in zip(choice.gains, choice.gains[1:], strict=False))


def test_sharing_the_objective_moves_the_choice_towards_the_niche() -> None:
    problem = wide_problem(2)
    find, both = choose(problem), choose(replace(problem, hit_share=0.5))
    assert both.hit >= find.hit
    assert both.found <= find.found + 1e-3


def test_a_shared_charge_is_counted_once() -> None:
    problem = small_problem(1)
    together, apart = minutes_of(problem, [1, 3]), minutes_of(problem, [1]) + minutes_of(problem, [3])
    assert apart - together == pytest.approx(3.0 + 0.0)


@given(seed=seeds, items=st.lists(st.integers(0, 11), unique=True, max_size=5))
def test_marginal_minutes_are_what_one_more_item_adds(seed: int, items: list[int]) -> None:
    problem = small_problem(seed)
    added = marginal_minutes(problem, items)
    for item in set(range(12)) - set(items):
        assert added[item] == pytest.approx(minutes_of(problem, [*items, item]) - minutes_of(problem, items))


def test_most_small_plants_are_solved_to_the_optimum() -> None:
    reached = [choose(problem).found >= best_by_trying_all(problem) - 1e-9 for problem in map(small_problem, range(10))]
    assert sum(reached) >= 8
