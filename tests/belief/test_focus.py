"""Rows drawn where the facts point: their density is exact, and they stand for the same belief."""

from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest
from builders.known import earlier_result, investigation, product_test, tiny_known

from swabwright.belief.believe import believe
from swabwright.belief.draw import draw_rows
from swabwright.belief.evidence import all_facts, weigh
from swabwright.belief.focus import Focus, focus_of, focused_sets
from swabwright.belief.known import Known
from swabwright.belief.mixture import every_single, mixed_rows
from swabwright.belief.prior import Prior, make_prior
from swabwright.belief.rows import HypothesisRows
from swabwright.belief.shares import shares

TELLING = tiny_known(
    investigation=investigation(
        product_tests=(product_test("detected"),),
        earlier_results=(earlier_result("S006", "detected"), earlier_result("S003")),
    )
)
KEY = (3, 51)


def prior_of(known: Known) -> Prior:
    """The prior over the sources of a bank."""
    return make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)


def focus_on(known: Known) -> Focus:
    """The focus of everything that is known."""
    prior = prior_of(known)
    return focus_of(all_facts(known, every_single(known, prior)), prior, known.bank.histories)


FEW = tiny_known(investigation=TELLING.investigation, histories=6)


@pytest.mark.parametrize("niches", [1, 2, 3])
def test_the_density_sums_to_one_over_all_histories_and_ordered_sets(niches: int) -> None:
    count = len(FEW.bank.source_names)
    sets = np.array([(*one, -1, -1)[:3] for one in permutations(range(count), niches)], np.int32)
    total = sum(focus_on(FEW).density(np.full(len(sets), e, np.int32), sets, niches).sum() for e in range(6))
    assert total == pytest.approx(1, rel=1e-9)


@pytest.mark.parametrize("niches", [1, 2, 3])
def test_rows_are_proposed_as_often_as_their_density_says(niches: int) -> None:
    focus = focus_on(FEW)
    history, sources = focused_sets(focus, niches, 20_000, KEY)
    expected = focus.density(history, sources, niches)
    # The mean of 1 / density over draws counts the sets that can be drawn; here by history, to keep it to few numbers.
    shares_drawn = np.bincount(history, minlength=6) / len(history)
    by_history = [np.sum(1 / expected[history == e]) for e in range(6)]
    sets = np.prod([len(FEW.bank.source_names) - turn for turn in range(niches)])
    assert shares_drawn.sum() == pytest.approx(1)
    assert np.median(by_history) / len(history) == pytest.approx(sets, rel=0.5)


def test_every_niche_of_a_focused_row_has_its_own_source() -> None:
    _, sources = focused_sets(focus_on(TELLING), 3, 3000, KEY)
    assert all(len(set(row)) == 3 for row in sources.tolist())


def test_mixed_rows_stand_for_the_prior() -> None:
    prior = prior_of(TELLING)
    rows = mixed_rows(TELLING, prior, 20_000)
    size = (rows.sources >= 0).sum(axis=1)
    assert [rows.weight[size == n].sum() for n in (1, 2, 3)] == pytest.approx([0.75, 0.2, 0.05])
    single = np.bincount(rows.sources[size == 1, 0], rows.weight[size == 1], len(TELLING.bank.source_names))
    assert single / 0.75 == pytest.approx(prior.weight, abs=0.01)


def distinct_size(rows: HypothesisRows) -> float:
    """Effective number of different rows: one drawn twice counts once."""
    _, same = np.unique(np.column_stack([rows.history, np.sort(rows.sources, axis=1)]), axis=0, return_inverse=True)
    weight = np.bincount(same, rows.weight)
    return float(1 / (weight**2).sum())


def test_a_tenth_of_the_rows_carries_the_same_belief_when_the_facts_point_the_way() -> None:
    prior = prior_of(TELLING)
    plain = draw_rows(TELLING.bank, prior, 40_000, 1)
    plain = weigh(plain, all_facts(TELLING, plain))
    focused = believe(TELLING, 12_000).rows
    sources = len(TELLING.bank.source_names)
    assert shares(focused, sources) == pytest.approx(shares(plain, sources), abs=0.03)
    assert len(focused) < len(plain) / 9
    assert distinct_size(focused) > 0.9 * distinct_size(plain)


def test_no_row_stands_twice() -> None:
    rows = mixed_rows(TELLING, prior_of(TELLING), 6000)
    named = np.column_stack([rows.history, rows.sources])
    assert len(np.unique(named, axis=0)) == len(rows)


def test_without_facts_all_rows_are_drawn_by_the_prior() -> None:
    known = tiny_known(investigation=investigation(implicated=()))
    prior = prior_of(known)
    rows = mixed_rows(known, prior, 2000)
    assert (rows.history == draw_rows(known.bank, prior, 2000, 7).history).all()


def test_reordering_sources_changes_no_row() -> None:
    focus = focus_on(TELLING)
    turn = np.arange(len(focus.order))[::-1]
    names = tuple(TELLING.bank.source_names[place] for place in turn)
    prior = prior_of(TELLING)
    facts = all_facts(TELLING, every_single(TELLING, prior))
    shape = (TELLING.bank.histories, len(names))
    turned = [replace(fact, factor=fact.factor.reshape(shape)[:, turn].ravel()) for fact in facts]
    other = focus_of(turned, replace(prior, source_names=names, weight=prior.weight[turn]), shape[0])
    history, sources = focused_sets(focus, 2, 500, KEY)
    same_history, same_sources = focused_sets(other, 2, 500, KEY)
    assert (history == same_history).all()
    assert (turn[same_sources[:, :2]] == sources[:, :2]).all()
