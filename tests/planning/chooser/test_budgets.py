"""Minutes in which lines stand, as budgets of the choice: kept by the search, the clash and the bound."""

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from builders.choices import allowed_choices, best_by_trying_all, small_problem

from swabwright.errors import LimitsClash
from swabwright.planning.bound import certify
from swabwright.planning.choose import choose
from swabwright.planning.choose_finds import evaluate
from swabwright.planning.feasible import Limits
from swabwright.planning.feasible_clash import clash_sentence, require_possible
from swabwright.planning.feasible_model import limits_of, solve
from swabwright.planning.problem import Budget

SEEDS = range(30)
EVERY_PLANT = [*SEEDS[:6], *(pytest.param(seed, marks=pytest.mark.slow) for seed in SEEDS[6:])]


def with_budget(seed, available=6.0, **more):
    """The small plant whose first six items need Line B, which stands for a few minutes only."""
    problem = small_problem(seed)
    minutes = np.where(np.arange(problem.tie.size) < 6, problem.minutes, 0.0)
    return replace(problem, budgets=(Budget("Line B", minutes, available),), **more)


def spent(problem, items):
    return float(problem.budgets[0].minutes[list(items)].sum())


@pytest.mark.parametrize("seed", EVERY_PLANT)
def test_a_choice_keeps_its_budget_and_is_hardly_ever_beaten(seed):
    problem = with_budget(seed)
    choice = choose(problem)
    assert spent(problem, choice.items) <= 6.0 + 1e-9
    assert choice.found >= 0.9 * best_by_trying_all(problem)


@pytest.mark.slow
def test_most_choices_with_a_budget_are_the_best():
    hits = [choose(with_budget(seed)).found > best_by_trying_all(with_budget(seed)) - 1e-9 for seed in SEEDS]
    assert sum(hits) >= 25


def test_the_budget_binds_in_most_of_these_plants():
    free = [small_problem(seed) for seed in SEEDS]
    assert sum(spent(with_budget(seed), choose(free[seed]).items) > 6.0 for seed in SEEDS) > 15


@pytest.mark.parametrize("seed", EVERY_PLANT)
def test_no_allowed_choice_finds_more_than_the_bound(seed):
    problem = with_budget(seed)
    assert certify(problem, choose(problem)).upper_bound >= best_by_trying_all(problem) - 1e-9


def test_a_budget_that_binds_lowers_the_bound():
    tight, loose = with_budget(3, 3.0), with_budget(3, 1000.0)
    bounds = [certify(problem, choose(problem)).upper_bound for problem in (tight, loose)]
    assert bounds[0] < bounds[1] - 1e-3


@pytest.mark.parametrize("seed", range(10))
def test_the_integer_program_and_the_quick_look_agree_on_what_is_possible(seed):
    problem = with_budget(seed, 4.0)
    possible = next(allowed_choices(problem), None) is not None
    assert (solve(problem, list(limits_of(problem))) is not None) is possible
    if possible:
        assert Limits(problem).kept(require_possible(problem))


def test_affordable_items_are_those_that_still_fit_the_budget():
    problem = with_budget(5)
    limits = Limits(problem)
    for items in combinations(range(6), 1):
        fits = [not limits.overspent([*items, item]).any() for item in range(problem.tie.size)]
        assert limits.affordable(items).tolist() == fits


def test_musts_that_need_a_line_for_longer_than_it_stands_are_refused_with_both_minutes():
    must = np.isin(np.arange(8), [0, 1])
    problem = with_budget(1, 5.0, must=must)
    needed = sum(problem.budgets[0].minutes[problem.site == site].min() for site in (0, 1))
    with pytest.raises(
        LimitsClash, match=f"Line B stands for 5 minutes .* the 2 samples that must be in need {needed:g}"
    ):
        choose(problem)


def test_a_minimum_that_needs_a_line_for_longer_names_the_minutes_it_stands():
    problem = with_budget(2, 0.0)
    only = np.isin(np.arange(8), [0, 1, 2])
    clash = clash_sentence(replace(problem, groups=(replace(problem.groups[0], sites=only, minimum=1),)))
    assert "the 0 minutes in which Line B stands" in clash
    assert "agree" in clash or "lower the minimum" in clash


def test_without_a_budget_nothing_changes():
    problem = small_problem(4)
    spendless = replace(problem, budgets=(Budget("Line B", np.zeros(problem.tie.size), 0.0),))
    assert choose(spendless).items == choose(problem).items
    assert float(problem.weight @ evaluate(problem, choose(problem).items)) == pytest.approx(choose(spendless).found)
