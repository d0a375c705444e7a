"""The order of work: class, pass, room visit and rank; as short as any allowed order."""

from itertools import pairwise, permutations

import numpy as np
import pytest
from builders.walks import breaks_the_order
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.planning.walk_bound import lower_bound, tree_bound
from swabwright.planning.walk_order import OrderKey, best_order

LAW = settings(deadline=None, derandomize=True, max_examples=60)
KEYS = st.builds(OrderKey, st.integers(1, 2), st.integers(0, 2), st.sampled_from(["a", "b", "c"]), st.integers(1, 3))
ONE_BLOCK = OrderKey(1, 0, "a", 1)


def flat_costs(count, seed):
    spots = np.random.default_rng(seed).uniform(0, 50, (count + 1, 2))
    return np.hypot(*(spots[:, None] - spots[None, :]).transpose(2, 0, 1))


def length(order, cost):
    return sum(cost[a, b] for a, b in pairwise([0, *(stop + 1 for stop in order)]))


def shortest_by_trying_all(keys, cost):
    allowed = (order for order in permutations(range(len(keys))) if not breaks_the_order([keys[n] for n in order]))
    return min(length(order, cost) for order in allowed)


@LAW
@given(st.lists(KEYS, min_size=1, max_size=40), st.integers(0, 99))
def test_no_rule_of_the_order_is_ever_broken(keys, seed):
    order, _ = best_order(keys, flat_costs(len(keys), seed))
    assert sorted(order) == list(range(len(keys)))
    assert breaks_the_order([keys[n] for n in order]) is None


@LAW
@given(st.lists(KEYS, min_size=1, max_size=7), st.integers(0, 99))
def test_no_allowed_order_of_a_few_sites_is_shorter(keys, seed):
    cost = flat_costs(len(keys), seed)
    order, total = best_order(keys, cost)
    assert total == pytest.approx(shortest_by_trying_all(keys, cost))
    assert total == pytest.approx(length(order, cost))


@LAW
@given(st.lists(KEYS, min_size=1, max_size=40), st.integers(0, 99))
def test_both_bounds_lie_below_the_walk(keys, seed):
    cost = flat_costs(len(keys), seed)
    _, total = best_order(keys, cost)
    assert tree_bound(keys, cost) <= lower_bound(keys, cost) <= total + 1e-9


@pytest.mark.parametrize("count", [11, 16, 30])
def test_a_large_block_is_bounded_from_below_and_nearly_met(count):
    keys, cost = [ONE_BLOCK] * count, flat_costs(count, 3)
    order, total = best_order(keys, cost)
    assert total == pytest.approx(length(order, cost))
    assert lower_bound(keys, cost) <= total <= 1.3 * lower_bound(keys, cost)


@pytest.mark.parametrize("rooms", [13, 20])
def test_many_rooms_of_one_pass_are_bounded_from_below_and_nearly_met(rooms):
    keys = [OrderKey(1, 0, f"room {n:02d}", rank) for n in range(rooms) for rank in (1, 2)]
    cost = flat_costs(len(keys), 5)
    order, total = best_order(keys, cost)
    assert breaks_the_order([keys[n] for n in order]) is None
    assert lower_bound(keys, cost) <= total == pytest.approx(length(order, cost))


def test_a_few_more_rooms_than_the_exact_limit_cost_no_more_than_in_the_order_of_their_names():
    keys = [OrderKey(1, 0, f"room {n:02d}", 1) for n in range(18)]
    cost = flat_costs(18, 9)
    assert best_order(keys, cost)[1] < length(range(18), cost)


def test_drains_of_a_class_come_after_every_other_site_of_it():
    # on a line: drain of the near room at 1 m, floor of the far room at 9 m; the near drain waits for the far floor
    keys = [OrderKey(1, 2, "near", 8), OrderKey(1, 1, "near", 7), OrderKey(1, 1, "far", 7)]
    spots = np.array([0.0, 1.0, 2.0, 9.0])
    order, total = best_order(keys, np.abs(spots[:, None] - spots[None, :]))
    assert order == [1, 2, 0]
    assert total == 2 + 7 + 8


def test_rooms_with_exposed_product_come_first_even_when_farther():
    keys = [OrderKey(1, 1, "near", 1), OrderKey(1, 0, "far", 1)]
    spots = np.array([0.0, 1.0, 9.0])
    assert best_order(keys, np.abs(spots[:, None] - spots[None, :]))[0] == [1, 0]


def test_a_cleaner_class_comes_first_even_when_farther():
    keys = [OrderKey(2, 0, "near", 1), OrderKey(1, 1, "far", 1)]
    spots = np.array([0.0, 1.0, 9.0])
    assert best_order(keys, np.abs(spots[:, None] - spots[None, :]))[0] == [1, 0]
