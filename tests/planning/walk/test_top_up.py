"""More and better samples for the minutes left: never worse than the start, every limit of the walk and visit kept."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from builders.choices import shuffled, small_problem
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import prepare, resampled
from swabwright.planning.choose_minutes import minutes_of
from swabwright.planning.feasible import Limits
from swabwright.planning.greedy import lazy_greedy
from swabwright.planning.problem import Problem
from swabwright.planning.walk_room import NO_ROOM
from swabwright.planning.walk_top_up import TopUp

LAW = settings(deadline=None, derandomize=True, max_examples=30)
seeds = st.integers(0, 10_000)


class StraightRoom:
    """A walk in which every site is reached at once: only the work at the sites takes minutes."""

    def __init__(self, problem: Problem, factor: float = 1.0) -> None:
        self.problem, self.factor = problem, factor

    def minutes_left(self, items: Sequence[int]) -> float:
        left = self.problem.minutes_available - self.factor * minutes_of(self.problem, items)
        return left if left >= 0 else NO_ROOM

    def fits(self, items: Sequence[int]) -> bool:
        return self.minutes_left(items) >= 0


def may_leave(problem: Problem):
    """Whether an item may go: neither a must nor needed for a minimum."""

    def allowed(item: int, others: Sequence[int]) -> bool:
        lacking, _ = Limits(problem).missing(others)
        return not problem.must[problem.site[item]] and not lacking.any()

    return allowed


def top_up(problem: Problem, factor: float = 1.0) -> TopUp:
    return TopUp(prepare(problem), StraightRoom(problem, factor), may_leave(problem))


def start_of(problem: Problem) -> list[int]:
    return lazy_greedy(Draft(prepare(problem)), Limits(problem), "rate").items


@LAW
@given(seed=seeds)
def test_it_finds_no_less_than_what_it_started_from(seed):
    problem = small_problem(seed)
    start, finds = start_of(problem), prepare(problem)
    assert Draft(finds, top_up(problem).best(start)).value >= Draft(finds, start).value - 1e-12


@LAW
@given(seed=seeds)
def test_the_walk_fits_and_minimums_stay_met(seed):
    problem = small_problem(seed)
    best = top_up(problem).best(start_of(problem))
    assert Limits(problem).kept(best)
    assert len(set(problem.site[best].tolist())) == len(best)


@LAW
@given(seed=seeds, site=st.integers(0, 7))
def test_a_must_stays_and_a_never_does_not_come_in(seed, site):
    must, never = np.arange(8) == site, np.arange(8) == (site + 1) % 8
    problem = replace(small_problem(seed), must=must, never=never, groups=())
    sites = set(problem.site[top_up(problem).best(start_of(problem))].tolist())
    assert site in sites
    assert (site + 1) % 8 not in sites


@LAW
@given(seed=seeds)
def test_listing_the_items_in_another_order_changes_nothing(seed):
    problem = small_problem(seed)
    mixed, places = shuffled(problem, seed)
    best = top_up(mixed).best(start_of(mixed))
    assert {int(places[item]) for item in best} == set(top_up(problem).best(start_of(problem)))


@LAW
@given(seed=seeds)
def test_whatever_still_fits_and_adds_something_has_been_taken(seed):
    problem = small_problem(seed)
    best, room = top_up(problem).best(start_of(problem)), StraightRoom(problem)
    outside = [item for item in range(problem.tie.size) if problem.site[item] not in problem.site[best]]
    worth = [item for item in outside if Draft(prepare(problem), best).gain(item) > 0]
    assert len(best) == problem.count or not any(room.fits([*best, item]) for item in worth)


@LAW
@given(seed=seeds)
def test_a_start_whose_walk_is_too_long_is_shortened_until_it_fits(seed):
    problem = replace(small_problem(seed), groups=())
    best = top_up(problem, factor=2.0).best(start_of(problem))
    assert not best or StraightRoom(problem, 2.0).fits(best)


def test_one_dear_sample_makes_room_for_several_that_find_more_together():
    problem = replace(small_problem(5), groups=(), count=8)
    dear = replace(problem, minutes=np.where(np.arange(problem.tie.size) == 0, problem.minutes_available * 0.9, 1.0))
    start = [0]
    best = top_up(dear).best(start)
    assert 0 not in best
    assert Draft(prepare(dear), best).value > Draft(prepare(dear), start).value


@LAW
@given(seed=seeds, count=st.integers(5, 40))
def test_resampled_rows_are_counted_in_proportion_to_their_weight(seed, count):
    finds = prepare(small_problem(seed))
    few = resampled(finds, count)
    assert few.weight.sum() == pytest.approx(1.0)
    assert few.weight.size <= max(count, finds.weight.size)


def test_many_resampled_rows_give_the_same_chances_as_all_rows():
    finds = prepare(small_problem(3, rows=4000))
    few = resampled(finds, 3000)
    assert few.chance @ few.weight == pytest.approx(finds.chance @ finds.weight, abs=0.02)


def test_a_table_of_few_rows_is_left_as_it_is():
    finds = prepare(small_problem(3))
    assert resampled(finds, finds.weight.size) is finds
