"""How well two chances that it is gone are told apart, and which of them may be larger."""

from dataclasses import replace

import numpy as np
import pytest
from builders.aftermaths import RATES, begun, round_at, three_banks

from swabwright.inference.clearance_difference import difference_error
from swabwright.inference.clearance_fates import Treated

SEEN, SAID = Treated(0, 0, 0.6), Treated(1, 0, 0.1)


@pytest.fixture(scope="module")
def banks():
    return three_banks(histories=60)


def silent(banks, treated):
    one = begun(banks, treated)
    for number in (1, 2):
        one = one.after(round_at(banks, number, (0, 1, 2)), RATES)
    return one


def gone_in(one, times):
    """The chance that it is gone when each history is drawn so often."""
    rows = one.states.rows
    weight = rows.weight * times[rows.history]
    return float(weight @ one.states.gone / weight.sum())


def test_a_chance_is_told_apart_from_itself_exactly(banks):
    one = silent(banks, [SEEN])
    assert difference_error(one, one) == 0.0


def test_the_error_is_that_of_drawing_the_histories_again(banks):
    every, seen = silent(banks, [SEEN, SAID]), silent(banks, [SEEN])
    draws = np.random.default_rng(5).multinomial(60, np.full(60, 1 / 60), size=2000)
    apart = [gone_in(every, times) - gone_in(seen, times) for times in draws]
    assert difference_error(every, seen) == pytest.approx(np.std(apart), rel=0.15)


def test_weights_need_no_sum_of_one(banks):
    every, seen = silent(banks, [SEEN, SAID]), silent(banks, [SEEN])
    rows = every.states.rows
    doubled = replace(every, states=replace(every.states, rows=replace(rows, weight=2.0 * rows.weight)))
    assert difference_error(doubled, seen) > 0.0


def test_before_any_round_an_action_that_is_only_said_never_makes_it_less(banks):
    assert begun(banks, [SEEN, SAID]).chance_gone > begun(banks, [SEEN]).chance_gone


def test_after_silent_rounds_an_action_that_only_reduced_a_niche_can_make_it_less(banks):
    hardly = replace(SAID, chance=0.001)
    assert silent(banks, [SEEN, hardly]).chance_gone < silent(banks, [SEEN]).chance_gone
