"""The chance of finding: one function of summed cells, falling gains, and what earlier results do to them."""

from dataclasses import replace
from math import log

import numpy as np
import pytest
from builders.choices import free_problem, small_problem, with_past
from hypothesis import given
from hypothesis import strategies as st

from swabwright.detection.phi import phi
from swabwright.planning.choose_draft import Draft
from swabwright.planning.choose_finds import evaluate, evaluate_hits, prepare

seeds = st.integers(0, 10_000)
some_items = st.lists(st.integers(0, 11), unique=True, max_size=6)


@given(seed=seeds, items=some_items, more=st.integers(0, 11))
def test_adding_a_sample_never_lowers_the_chance_in_any_row(seed: int, items: list[int], more: int) -> None:
    problem = free_problem(seed)
    with_one_more = evaluate(problem, [*items, more] if more not in items else items)
    assert (with_one_more >= evaluate(problem, items) - 1e-12).all()


@given(seed=seeds, items=some_items)
def test_order_of_samples_does_not_matter(seed: int, items: list[int]) -> None:
    problem = free_problem(seed)
    assert evaluate(problem, items) == pytest.approx(evaluate(problem, items[::-1]), abs=1e-12)


@given(seed=seeds, items=some_items, more=st.integers(0, 11))
def test_a_gain_never_rises_as_the_choice_grows(seed: int, items: list[int], more: int) -> None:
    problem = free_problem(seed)
    others = [item for item in items if problem.site[item] != problem.site[more]]
    finds = prepare(problem)
    assert Draft(finds, others).gain(more) <= Draft(finds, others[:-1]).gain(more) + 1e-9


@given(seed=seeds, items=some_items)
def test_the_draft_keeps_the_same_value_as_the_plain_formula(seed: int, items: list[int]) -> None:
    problem = small_problem(seed)
    draft = Draft(prepare(problem), items)
    assert draft.value == pytest.approx(float(problem.weight @ evaluate(problem, items)), abs=1e-6)


def test_cells_are_summed_within_a_site_and_chances_multiplied_across_sites() -> None:
    problem = free_problem(1)
    cells = np.zeros_like(problem.cells)
    cells[[0, 1, 2]] = 2.0
    silent_one, silent_two = (0.05 + 0.95 * phi([load], 1.5)[0] for load in (2.0, 4.0))
    found = evaluate(replace(problem, cells=cells), [0, 1, 2])
    assert found == pytest.approx(np.full(60, 1 - silent_one * silent_two), abs=2e-5)


def test_a_site_is_never_surer_than_the_unexplained_share_allows() -> None:
    problem = free_problem(1)
    flooded = replace(problem, cells=np.full_like(problem.cells, 1e9))
    exponent = -np.log1p(-evaluate(flooded, [0]))
    assert exponent == pytest.approx(np.full(60, -log(0.05)), abs=1e-3)


def test_after_one_not_detected_the_next_finds_half_as_often() -> None:
    """At lambda 2, sigma 1.5, unexplained 0.05: 0.34 instead of the fresh site's chance."""
    problem = with_past(free_problem(1), site=5, cells=2.0, detected=False)
    cells = np.zeros_like(problem.cells)
    cells[9] = 2.0
    found = evaluate(replace(problem, cells=cells), [9])
    assert found == pytest.approx(np.full(60, 0.34), abs=0.01)


def test_an_earlier_not_detected_lowers_the_gain_of_its_site_alone() -> None:
    fresh = free_problem(1)
    tried = with_past(fresh, site=5, cells=2.0, detected=False)
    before, after = (prepare(problem).chance @ problem.weight.astype(np.float32) for problem in (fresh, tried))
    assert after[9] < before[9]
    assert np.delete(after, 9) == pytest.approx(np.delete(before, 9))


def test_hits_count_only_samples_on_the_niche_itself() -> None:
    problem = free_problem(4)
    hits = evaluate_hits(problem, [0, 8])
    assert (hits <= evaluate(problem, [0, 8]) + 1e-12).all()
    assert (hits[~problem.at_source[[0, 8]].any(axis=0)] == 0).all()


def test_other_rows_are_judged_by_their_own_cells() -> None:
    problem, other = free_problem(4), free_problem(5, rows=35)
    items = [0, 8, 9]
    assert evaluate(problem, items, other.cells[items]) == pytest.approx(evaluate(other, items))
