"""What each sample buys, what more would buy, and what one insistence costs."""

from dataclasses import replace

import numpy as np
import pytest
from builders.choices import best_by_trying_all, small_problem, wide_problem
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import LimitsClash
from swabwright.planning.bound import Prover
from swabwright.planning.choose import choose
from swabwright.planning.choose_finds import prefix_finds, prepare
from swabwright.planning.curve import curve, found_with_more
from swabwright.planning.curve_price import price, replan, with_change
from swabwright.planning.feasible import Limits


def test_the_curve_rises_to_the_chance_of_the_choice() -> None:
    problem = wide_problem(2)
    choice = choose(problem)
    steps = curve(Prover(problem, choice, prepare(problem)), choice)
    found = [step.found for step in steps]
    assert found == sorted(found)
    assert found[-1] == pytest.approx(choice.found)


def test_no_point_of_the_curve_lies_above_the_best_any_choice_could_do() -> None:
    problem = wide_problem(2)
    choice = choose(problem)
    steps = curve(Prover(problem, choice, prepare(problem)), choice)
    bounded = [step for step in steps if step.best_any_plan is not None]
    assert [step.samples for step in bounded] == [10, len(choice.items)]
    assert all(step.best_any_plan >= step.found for step in bounded)


def test_more_samples_buy_something_and_less_than_the_first_did() -> None:
    problem = wide_problem(2)
    choice = choose(problem)
    more = found_with_more(prepare(problem), problem, choice, 10)
    assert choice.found < more < 2 * choice.found


def test_prefixes_of_other_rows_use_those_rows() -> None:
    problem, other = small_problem(1), small_problem(2, rows=17)
    rows = list(prefix_finds(problem, [0, 4, 9], other.cells[[0, 4, 9]]))
    assert [row.shape for row in rows] == [(17,)] * 3
    assert (np.diff(rows, axis=0) >= 0).all()


@settings(max_examples=20)
@given(seed=st.integers(0, 10_000), site=st.integers(0, 7))
def test_choosing_again_keeps_the_changed_limits(seed: int, site: int) -> None:
    problem = replace(small_problem(seed), groups=())
    pinned = with_change(problem, site, "pin")
    again = replan(pinned, choose(problem), prepare(problem))
    assert Limits(pinned).kept(again.items)


@settings(max_examples=20)
@given(seed=st.integers(0, 10_000), site=st.integers(0, 7))
def test_a_forbidden_site_is_left_out_and_costs_at_most_its_own_chance(seed: int, site: int) -> None:
    problem = replace(small_problem(seed), groups=())
    forbidden = with_change(problem, site, "forbid")
    again = replan(forbidden, choose(problem), prepare(problem))
    assert site not in problem.site[list(again.items)]
    assert again.found <= best_by_trying_all(forbidden) + 1e-9


def test_pinning_a_site_that_is_taken_anyway_costs_nothing() -> None:
    problem = small_problem(4)
    choice = choose(problem)
    taken = int(problem.site[choice.items[0]])
    assert price(problem, choice, prepare(problem), taken, "pin") <= 1e-9


def test_a_change_that_clashes_is_refused_in_a_sentence() -> None:
    problem = replace(small_problem(4), minutes_available=14.0, groups=small_problem(4).groups[:1])
    choice = choose(problem)
    pinned = with_change(with_change(problem, 3, "pin"), 7, "pin")
    with pytest.raises(LimitsClash, match="must be taken"):
        replan(pinned, choice, prepare(problem))
