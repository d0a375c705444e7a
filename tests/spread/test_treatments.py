"""The same histories with every niche left, reduced or gone from a moment on."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from builders.plants import twenty_site_plant
from builders.spreads import VISIT, bank_from, setting_of, timeline
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.plant.registry import load_figures
from swabwright.spread.blocks import Simulator
from swabwright.spread.events import draw_events
from swabwright.spread.histories import draw_histories, in_copy
from swabwright.spread.plain import plain_history
from swabwright.spread.segments import Action, cut_at, segmented_block
from swabwright.spread.treatments import Treatment, treatment_of

BEFORE, AFTER, LAST = VISIT - timedelta(days=6), VISIT - timedelta(days=2), VISIT
ACTION = VISIT - timedelta(days=5, hours=-1)
"""A Thursday, the Friday after it, and a Monday and a Wednesday."""
DAYS = (BEFORE.date(), AFTER.date())
KINDS = ("gone", "reduced")
PARTS = ("offsets", "row_index", "code", "niche", "product", "founded_before")


def treatment(kind, at=ACTION):
    return treatment_of(kind, at, load_figures())


@pytest.fixture(scope="module")
def left():
    when = timeline(BEFORE, AFTER, LAST, founded_by=VISIT - timedelta(days=1), product_days=DAYS)
    return setting_of(twenty_site_plant(), when)


@pytest.fixture(scope="module")
def banks(left):
    """One bank as it is, and one for each treatment."""
    return {None: bank_from(left), **{kind: bank_from(left.treated(treatment(kind))) for kind in KINDS}}


def dense(bank, occasion):
    """Loads by (history, source, row) at one occasion."""
    found = np.zeros((bank.histories, len(bank.source_names), len(bank.row_names)))
    for e, one in enumerate(found):
        for c, loads in enumerate(one):
            column = bank.column(e, occasion, c)
            loads[column.rows] = column.loads
    return found


def assert_same_occasion(one, other, occasion):
    np.testing.assert_array_equal(one.niche[:, occasion], other.niche[:, occasion])
    np.testing.assert_array_equal(dense(one, occasion), dense(other, occasion))


@pytest.mark.parametrize("kind", KINDS)
def test_up_to_the_action_nothing_is_changed(banks, kind):
    assert_same_occasion(banks[kind], banks[None], 0)
    np.testing.assert_array_equal(banks[kind].product[:, :, 0], banks[None].product[:, :, 0])
    np.testing.assert_array_equal(banks[kind].founded_before, banks[None].founded_before)


def test_a_niche_that_is_gone_stays_gone(banks):
    old = banks[None].founded_before[:, 0]
    assert old.mean() > 0.4
    for occasion in (1, 2):
        assert banks["gone"].niche[:, occasion][old].max() == 0
        assert banks[None].niche[:, occasion][old].min() > 0


def test_a_niche_founded_after_the_action_is_as_any_other(banks):
    young = banks[None].founded_before[:, 2] & ~banks[None].founded_before[:, 1]
    assert young.sum() > 20
    for kind in KINDS:
        np.testing.assert_array_equal(banks[kind].niche[:, 2][young], banks[None].niche[:, 2][young])


def test_gone_leaves_less_than_reduced_and_reduced_less_than_left_everywhere(banks):
    for occasion in (1, 2):
        gone, reduced, as_it_was = (dense(banks[kind], occasion) for kind in ("gone", "reduced", None))
        assert (gone <= reduced).all()
        assert (reduced <= as_it_was * 1.001).all()
        assert gone.sum() < reduced.sum() < as_it_was.sum()


def test_niches_are_in_the_same_order(banks):
    for occasion in (1, 2):
        gone, reduced, as_it_was = (banks[kind].niche[:, occasion] for kind in ("gone", "reduced", None))
        assert (gone <= reduced).all()
        assert (reduced <= as_it_was * 1.000001).all()


def test_what_a_niche_that_is_gone_left_behind_dies_away(banks):
    old = banks[None].founded_before[:, 0]
    on_surfaces = [dense(banks["gone"], occasion).sum(axis=2)[old].mean() for occasion in (0, 1, 2)]
    assert on_surfaces[0] > 3 * on_surfaces[1] > 9 * on_surfaces[2] > 0


def test_product_after_the_action_carries_less(banks):
    later = {kind: bank.product[:, :, 1] for kind, bank in banks.items()}
    assert (later["gone"] <= later["reduced"] * 1.001).all()
    assert (later["reduced"] <= later[None] * 1.001).all()
    assert later["gone"].sum() < 0.5 * later[None].sum()


def test_a_reduced_niche_grows_again(banks):
    old = banks[None].founded_before[:, 0]
    share = [banks["reduced"].niche[:, o][old] / banks[None].niche[:, o][old] for o in (1, 2)]
    assert (share[1] >= share[0] * 0.999).all()
    assert np.median(share[1]) > np.median(share[0])


def test_exponents_are_uniform_and_each_source_has_its_own(left):
    numbers = np.arange(500)
    kept = draw_histories(left.treated(treatment("reduced")), "A", numbers).kept
    exponents = -np.log10(kept)
    assert 0 < exponents.min() < 0.01 < 2.99 < exponents.max() < 3
    np.testing.assert_allclose(exponents.mean(axis=0), 1.5, atol=4 * 3 / np.sqrt(12 * 500))
    assert np.abs(np.corrcoef(exponents.T) - np.eye(kept.shape[1])).max() < 0.25


def test_exponents_do_not_hang_on_when_it_is_done(left):
    early, late = (left.treated(treatment("reduced", ACTION + timedelta(days=n))) for n in (0, 2))
    one, other = (draw_histories(setting, "B", np.arange(40)).kept for setting in (early, late))
    np.testing.assert_array_equal(one, other)


def test_incoming_material_ceases(banks):
    line = len(banks[None].row_names)
    assert banks[None].niche[:, 2, line].tolist() == [1.0] * 100
    assert banks["gone"].niche[:, 2, line].tolist() == [0.0] * 100


@pytest.mark.parametrize("kind", KINDS)
def test_threads_change_nothing(left, banks, kind):
    three = bank_from(left.treated(treatment(kind)), 250, workers=3)
    one = bank_from(left.treated(treatment(kind)), 250, workers=1)
    for part in PARTS:
        np.testing.assert_array_equal(getattr(three, part), getattr(one, part))
    np.testing.assert_array_equal(one.niche[:100], banks[kind].niche)


def test_no_treatment_leaves_the_digest_as_it_was():
    # of banks that were kept before there were treatments, so that they are still found
    assert setting_of().digest() == "a4f2637ca161ffc93d54f7280b8479c0c30ed23e"


def test_the_digest_follows_from_what_is_done_and_when(left):
    later = ACTION + timedelta(hours=12)
    others = [treatment("gone"), treatment("reduced"), treatment("gone", later), Treatment(ACTION, "reduced", (0, 2))]
    digests = {left.digest(), *(left.treated(one).digest() for one in others)}
    assert len(digests) == 5


def test_two_moments_in_one_slot_are_one_bank(left):
    moments = (ACTION, ACTION + timedelta(minutes=5))
    assert len({left.treated(treatment("gone", at)).digest() for at in moments}) == 1


@given(hours=st.integers(1, 24 * 12))
@settings(deadline=None, derandomize=True)
def test_a_treatment_acts_where_its_slot_ends(left, hours):
    at = VISIT - timedelta(hours=hours)
    slot, clock = left.treated(treatment("gone", at)).treated_slot, left.clock
    starts = [datetime(2000, 1, 1, tzinfo=UTC) + timedelta(hours=2 * int(unit)) for unit in clock.unit]
    assert starts[slot - 1] < at <= starts[slot]


@pytest.mark.parametrize("days", [-40, 1])
def test_an_action_outside_the_histories_is_refused_with_what_to_do(left, days):
    with pytest.raises(SwabwrightError, match=r"outside the histories, .* add a visit after it"):
        left.treated(treatment("gone", VISIT + timedelta(days=days)))


def test_a_treatment_is_the_same_in_one_segment_or_two(left):
    treated = left.treated(treatment("reduced"))
    whole = Simulator(treated, "A").block(0)
    for cut in (treated.treated_slot - 2, treated.treated_slot, treated.treated_slot + 2):
        before, after = segmented_block(cut_at(treated, cut), [Action()], "A", 0)
        np.testing.assert_array_equal(np.concatenate([before.niche, after.niche], axis=1), whole.niche)


@pytest.mark.parametrize("kind", KINDS)
def test_the_plain_form_treats_alike(left, kind):
    simulator = Simulator(left.treated(treatment(kind)), "A")
    copy, lanes, streams = simulator.copies[0]
    draws = in_copy(draw_histories(simulator.setting, "A", np.arange(0, 40, 20)), np.arange(2), copy)
    store = simulator.store_of(0, draws)
    tables = (simulator.slots, simulator.sources, simulator.tuning)
    for e in range(2):
        events = draw_events(
            lanes, streams, simulator.slots, simulator.tuning, draws.rate[e], draws.fraction[e], draws.history[e]
        )
        plain = plain_history(events, tables, draws, e)
        np.testing.assert_allclose(store.niche[e], plain.niche, rtol=1e-5)
        np.testing.assert_allclose(store.product[e], plain.product, rtol=1e-3, atol=1e-9)


def test_reduced_niches_regrow_by_the_logistic_law(left):
    # 1/h - 1/h' of two courses of one logistic law shrinks alike for all: 100 - 1 against 10 - 1 at the action
    once, twice = (bank_from(left.treated(Treatment(ACTION, "reduced", (by, by)))) for by in (1.0, 2.0))
    untouched = bank_from(left)
    old = untouched.founded_before[:, 0]
    for occasion in (1, 2):
        one, two, none = (1 / bank.niche[:, occasion][old].astype(float) for bank in (once, twice, untouched))
        apart = (one - none) > 0.01 * none
        assert apart.mean() > 0.2
        np.testing.assert_allclose(((two - none) / (one - none))[apart], 11.0, rtol=1e-3)
