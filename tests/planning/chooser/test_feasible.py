"""Limits that clash are named, with the smallest change that helps; limits that do not are met."""

from dataclasses import replace

import numpy as np
import pytest
from builders.choices import allowed_choices, small_problem
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import LimitsClash
from swabwright.planning.choose import choose
from swabwright.planning.feasible import Limits
from swabwright.planning.feasible_clash import clash_sentence, require_possible
from swabwright.planning.problem import Group, Problem


def sites(*numbers: int) -> np.ndarray:
    """A mask over the eight sites."""
    return np.isin(np.arange(8), numbers)


def test_a_minimum_above_the_count_is_named_with_the_count() -> None:
    problem = replace(small_problem(1), groups=(Group("zone 3", sites(3, 5, 6, 7), 3), Group("zone 1", sites(0, 1), 2)))
    with pytest.raises(LimitsClash, match="the limit of 4 samples, the minimum of 3 in zone 3 and the minimum of 2 in"):
        choose(problem)


def test_the_smallest_change_is_said() -> None:
    problem = replace(small_problem(1), groups=(Group("zone 1", sites(0, 1, 2), 5),), count=8)
    sentence = clash_sentence(problem)
    assert sentence.startswith("the minimum of 5 in zone 1 cannot be met; the smallest change that helps:")
    assert sentence.endswith("lower the minimum in zone 1 to 3")


def test_minutes_that_are_too_few_say_how_many_more() -> None:
    problem = replace(small_problem(1), groups=(), must=sites(7))
    needed = float(problem.minutes[11]) + problem.charges.per_room
    with pytest.raises(LimitsClash, match=r"allow 1\.5 minutes more") as caught:
        choose(replace(problem, minutes_available=needed - 1.5))
    assert "site S007 that must be taken" in str(caught.value)


def test_a_site_that_must_and_must_not_be_taken_is_named() -> None:
    problem = replace(small_problem(1), groups=(), must=sites(2), never=sites(2))
    with pytest.raises(LimitsClash, match="S002, which must also never be taken"):
        choose(problem)


def test_limits_that_do_not_clash_are_left_out_of_the_sentence() -> None:
    problem = replace(small_problem(1), groups=(Group("zone 1", sites(0), 2), Group("zone 3", sites(6), 1)))
    assert "zone 3" not in clash_sentence(problem)
    assert "minutes" not in clash_sentence(problem)


def test_when_no_single_change_helps_it_is_said() -> None:
    groups = (Group("zone 1", sites(0), 2), Group("zone 3", sites(6), 2))
    assert "the smallest change that helps" not in clash_sentence(replace(small_problem(1), groups=groups, count=1))


@settings(max_examples=40)
@given(seed=st.integers(0, 10_000), minutes=st.floats(8, 24), least=st.integers(1, 3))
def test_a_set_is_found_exactly_when_one_exists(seed: int, minutes: float, least: int) -> None:
    problem = small_problem(seed)
    groups = (replace(problem.groups[0], minimum=least), replace(problem.groups[1], minimum=1))
    problem = replace(problem, minutes_available=minutes, groups=groups)
    exists = next(allowed_choices(problem), None) is not None
    assert _possible(problem) == exists


def test_overlapping_minimums_are_met_by_shared_sites() -> None:
    """Zone and room overlap: two sites must count twice, which no site-by-site rule sees at once."""
    groups = (Group("zone 1", sites(0, 1, 2), 2), Group("room a", sites(2, 3, 4), 2), Group("room b", sites(0, 4), 2))
    problem = replace(small_problem(1), groups=groups, count=3, minutes_available=60.0)
    choice = choose(problem)
    assert Limits(problem).kept(choice.items)


def test_a_completion_contains_what_it_completes() -> None:
    problem = small_problem(3)
    done = Limits(problem).completion([4])
    assert done is not None
    assert done[0] == 4
    assert Limits(problem).kept(done)


def _possible(problem: Problem) -> bool:
    try:
        return Limits(problem).kept(require_possible(problem))
    except LimitsClash:
        return False
