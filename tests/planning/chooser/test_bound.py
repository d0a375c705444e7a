"""The certificate: never below what an exhaustive search finds, never a claim about a site with a past detection."""

from dataclasses import replace

import numpy as np
import pytest
from builders.choices import allowed_choices, best_by_trying_all, free_problem, small_problem, wide_problem, with_past
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.planning.bound import Prover, certify, settle
from swabwright.planning.bound_limits import RelaxedLimits
from swabwright.planning.bound_marginal import marginal_bound
from swabwright.planning.choose import choose
from swabwright.planning.choose_finds import evaluate, prepare
from swabwright.planning.envelope_cuts import CutMaker
from swabwright.planning.frank_wolfe import smooth_bound
from swabwright.planning.problem import Problem

seeds = st.integers(0, 10_000)


EVERY_PLANT = [*range(3), *(pytest.param(seed, marks=pytest.mark.slow) for seed in range(3, 30))]


@pytest.mark.parametrize("seed", EVERY_PLANT)
def test_exhaustive_search_lies_between_choice_and_bound(seed: int) -> None:
    problem = small_problem(seed)
    choice, best = choose(problem), best_by_trying_all(problem)
    certificate = certify(problem, choice)
    assert choice.found <= best + 1e-9
    assert best <= certificate.upper_bound + 1e-9


@pytest.mark.slow
@settings(max_examples=5)
@given(seed=seeds)
def test_the_bound_without_minutes_holds_without_minutes(seed: int) -> None:
    problem = small_problem(seed)
    choice = choose(problem)
    best = best_by_trying_all(replace(problem, minutes_available=np.inf))
    without = choice.found / (1 - certify(problem, choice).gap_without_minutes)
    assert best <= without + 1e-9


@settings(max_examples=25)
@given(seed=seeds, point=st.lists(st.floats(0, 1), min_size=12, max_size=12))
def test_a_cut_is_never_below_the_chance_of_any_choice(seed: int, point: list[float]) -> None:
    problem = replace(free_problem(seed, rows=25), count=3)
    cut = CutMaker(problem, prepare(problem).chance).cut_at(np.array(point))
    for items in allowed_choices(problem):
        taken = np.isin(np.arange(12), items).astype(float)
        assert cut.at(taken) >= problem.weight @ evaluate(problem, items) - 1e-6


@settings(max_examples=25)
@given(seed=seeds)
def test_a_cut_at_a_choice_touches_its_chance(seed: int) -> None:
    problem = free_problem(seed)
    choice = choose(problem)
    taken = np.isin(np.arange(12), choice.items).astype(float)
    cut = CutMaker(problem, prepare(problem).chance).cut_at(taken)
    assert cut.at(taken) == pytest.approx(choice.found, abs=1e-5)


@settings(max_examples=15)
@given(seed=seeds)
def test_every_way_to_a_bound_holds_alone(seed: int) -> None:
    problem = small_problem(seed)
    choice, finds, best = choose(problem), prepare(problem), best_by_trying_all(problem)
    smooth = smooth_bound(
        CutMaker(problem, finds.chance), RelaxedLimits(problem, minutes=True), np.zeros(12), (6, np.inf)
    )
    assert smooth >= best - 1e-6
    assert marginal_bound(problem, finds, choice) >= best - 1e-9


def test_the_smooth_value_alone_is_never_used() -> None:
    """From a poor start one round's value lies below the optimum; with its duality gap it does not."""
    problem = free_problem(3)
    finds = prepare(problem)
    maker = CutMaker(problem, finds.chance)
    assert smooth_bound(maker, RelaxedLimits(problem, minutes=True), np.zeros(12), (1, np.inf)) >= best_by_trying_all(
        problem
    )


def test_the_bound_is_the_same_every_time() -> None:
    problem = small_problem(4)
    choice = choose(problem)
    assert certify(problem, choice) == certify(problem, choice)


def test_a_whole_plant_is_certified_far_closer_than_by_adding_up_gains() -> None:
    problem = wide_problem(4)
    choice = choose(problem)
    certificate = certify(problem, choice)
    assert certificate.upper_bound - choice.found < 0.5 * (
        marginal_bound(problem, prepare(problem), choice) - choice.found
    )
    assert certificate.gap <= certificate.gap_without_minutes + 1e-9


def test_settling_never_loses_and_never_beats_the_bound() -> None:
    problem = small_problem(24)
    choice, certificate = settle(problem)
    assert choose(problem).found <= choice.found <= certificate.upper_bound
    assert choice.found == pytest.approx(best_by_trying_all(problem))


def test_sites_with_a_past_detection_are_left_out_of_the_claim() -> None:
    problem = with_past(small_problem(2), site=5, cells=1.0, detected=True)
    certificate = certify(problem, choose(problem))
    assert "1 site with an earlier 'detected' held as planned" in certificate.how


@pytest.mark.parametrize("seed", range(3))
def test_the_bound_beside_a_past_detection_covers_the_other_sites(seed: int) -> None:
    problem = with_past(small_problem(seed), site=5, cells=1.0, detected=True)
    choice = choose(problem)
    best = max(_found(problem, items) for items in allowed_choices(problem) if (9 in items) == (9 in choice.items))
    assert best <= certify(problem, choice).upper_bound + 1e-9


def test_the_best_with_fewer_samples_is_a_bound_too() -> None:
    problem = small_problem(6)
    prover = Prover(problem, choose(problem), prepare(problem))
    loose = replace(problem, count=2, groups=())
    assert prover.best_with(2) >= best_by_trying_all(loose) - 1e-9


def _found(problem: Problem, items: tuple[int, ...]) -> float:
    return float(problem.weight @ evaluate(problem, items))
