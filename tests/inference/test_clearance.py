"""Laws of the chance that it is gone, on invented banks."""

from dataclasses import replace

import numpy as np
import pytest
from builders.aftermaths import RATES, begun, round_at, single_rows, three_banks
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.belief.rows import HypothesisRows
from swabwright.inference.batches import BatchState
from swabwright.inference.clearance import mean_rates
from swabwright.inference.clearance_fates import Treated, fates_of
from swabwright.inference.clearance_states import split

EVERYWHERE = (0, 1, 2, 3, 4, 5)
ALL_TREATED = tuple(Treated(source, 0, 0.6) for source in range(9))


@pytest.fixture(scope="module")
def banks():
    return three_banks()


def test_without_actions_a_niche_that_was_there_remains(banks):
    begins = begun(banks, treated=())
    assert begins.chance_gone == 0.0
    assert begins.after(round_at(banks, 1, EVERYWHERE), RATES).chance_gone == 0.0


def test_an_action_without_a_chance_counts_nothing(banks):
    assert begun(banks, treated=(Treated(0, 0, 0.0),)).chance_gone == 0.0


def test_before_any_round_it_is_gone_with_the_chance_of_the_action(banks):
    assert begun(banks, ALL_TREATED).chance_gone == pytest.approx(0.6)


def test_actions_one_after_another_remove_what_the_first_left(banks):
    twice = (*ALL_TREATED, *(Treated(source, 1, 0.5) for source in range(9)))
    assert begun((*banks, *banks[1:]), twice).chance_gone == pytest.approx(1 - 0.4 * 0.5)


def test_a_niche_elsewhere_is_not_gone(banks):
    assert begun(banks, (Treated(0, 0, 0.6),)).chance_gone == pytest.approx(0.6 / 3)


def test_both_niches_of_a_pair_must_be_gone(banks):
    sources = np.array([[0, 1, -1]], np.int32)
    pair = HypothesisRows(np.zeros(1, np.int32), sources, np.ones(1), np.zeros(1, np.int16))
    states = split(pair, fates_of(9, (Treated(0, 0, 0.6), Treated(1, 0, 0.2))))
    assert len(states) == 4
    assert states.rows.weight @ states.gone == pytest.approx(0.12)


def test_not_detected_in_more_rounds_never_lowers_the_chance(banks):
    one, chances = begun(banks, ALL_TREATED), []
    for number in (1, 2, 3):
        one = one.after(round_at(banks, number, EVERYWHERE), RATES)
        chances.append(one.chance_gone)
    assert 0.6 < chances[0] < chances[1] < chances[2] < 1.0


def test_a_detection_at_the_treated_site_lowers_it(banks):
    one = begun(banks, ALL_TREATED, rows=single_rows(banks[0], (0,)))
    assert one.after(round_at(banks, 3, (0,), found=(0,)), RATES).chance_gone < 0.3


def test_the_same_round_again_and_again_saturates(banks):
    def after(rounds):
        one = begun(banks, ALL_TREATED)
        for turn, (number, places) in enumerate(rounds):
            one = one.after(round_at(banks, number, places, name=f"turn {turn}"), RATES)
        return one.chance_gone

    repeats = [after([(3, (0, 1))] * times) for times in (1, 2, 3, 6)]
    assert repeats == sorted(repeats)
    assert repeats[3] - repeats[2] < repeats[1] - repeats[0]
    assert repeats[3] < after([(3, (0, 1)), (3, (2, 3)), (3, (4, 5))])


def test_the_order_of_results_changes_nothing(banks):
    first, second = round_at(banks, 1, (0, 1), found=(1,)), round_at(banks, 2, (0, 2, 1))
    begins = begun(banks, ALL_TREATED)
    forward = begins.after(first, RATES).after(second, RATES)
    backward = begins.after(second[::-1], RATES).after(first, RATES)
    assert forward.chance_gone == pytest.approx(backward.chance_gone, rel=1e-6)


def test_what_may_be_left_is_shared_over_the_niches_that_remain(banks):
    sources = np.array([[0, 1, -1], [2, -1, -1]], np.int32)
    rows = HypothesisRows(np.zeros(2, np.int32), sources, np.array([0.5, 0.5]), np.zeros(2, np.int16))
    one = begun(banks, (Treated(0, 0, 0.6), Treated(2, 0, 0.2)), rows)
    # of the pair 0.3 has the second niche alone and 0.2 both; of the single one 0.4 is left
    assert one.share_left[:3] == pytest.approx(np.array([0.1, 0.3 + 0.1, 0.4]) / 0.9)
    assert one.share_left.sum() == pytest.approx(1.0)
    assert one.left_at(1).value == pytest.approx(one.share_left[1])


@settings(deadline=None, derandomize=True, max_examples=20)
@given(st.permutations(range(6)), st.sets(st.sampled_from(range(6)), max_size=2))
def test_no_shuffle_of_a_round_changes_a_weight(banks, order, found):
    results = round_at(banks, 1, EVERYWHERE, found=found)
    plain, shuffled = (
        begun(banks, ALL_TREATED).after(some, RATES) for some in (results, [results[at] for at in order])
    )
    assert np.array_equal(plain.states.rows.weight, shuffled.states.rows.weight)


def test_less_sure_of_what_was_done_is_less_sure_that_it_is_gone(banks):
    rounds = round_at(banks, 1, EVERYWHERE)
    chances = [
        begun(banks, [Treated(source, 0, p) for source in range(9)]).after(rounds, RATES).chance_gone
        for p in (0.0, 0.3, 0.6, 0.8)
    ]
    assert chances == sorted(chances)
    assert chances[0] == 0.0


def test_what_was_found_before_does_not_count_twice(banks):
    past = round_at(banks, 0, (0, 1), found=(0,))
    assert begun(banks, ALL_TREATED, past=past).states.rows.weight == pytest.approx(
        begun(banks, ALL_TREATED).states.rows.weight
    )


def test_not_detected_at_a_site_that_was_never_detected_before_says_less(banks):
    rounds = round_at(banks, 3, (0,))
    rows = single_rows(banks[0], (0,))
    fresh, silent = begun(banks, ALL_TREATED, rows), begun(banks, ALL_TREATED, rows, round_at(banks, 0, (0,)))
    assert silent.after(rounds, RATES).chance_gone < fresh.after(rounds, RATES).chance_gone


def test_rates_of_batches_are_means_over_their_states():
    clean, dirty = (BatchState(0.5, {"visit-1": rate}, frozenset()) for rate in (0.002, 0.2))
    assert mean_rates([(clean, 3.0), (dirty, 1.0)])["visit-1"] == pytest.approx((3 * 0.002 + 0.2) / 4)


def test_a_rebuilt_site_is_read_afresh(banks):
    rows, past = single_rows(banks[0], (0,)), round_at(banks, 0, (0,))
    later = round_at(banks, 3, (0,))
    fresh = tuple(replace(one, item=replace(one.item, draws_key="rebuilt")) for one in later)
    one = begun(banks, ALL_TREATED, rows, past)
    assert set(one.after(fresh, RATES).past) == {past[0].item.shared_key, "rebuilt"}
