"""Weights made more even: no more than is needed, in the same order, never under the least power."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.belief.rows import HypothesisRows
from swabwright.inference.labels import labels_of
from swabwright.inference.widened import widen

LEAST = 8.0


def rows_of(weights):
    weight = np.array(weights, dtype=float)
    sources = np.full((len(weight), 3), -1, np.int32)
    sources[:, 0] = np.arange(len(weight)) % 3
    history = np.arange(len(weight), dtype=np.int32)
    return HypothesisRows(history, sources, weight / weight.sum(), np.zeros(len(weight), np.int16))


def test_weights_that_enough_histories_bear_stay_as_they_are():
    even = rows_of([1.0] * 20)
    widened = widen(even, LEAST, 0.5)
    assert widened.rows is even
    assert not widened.needed


def test_weights_are_evened_out_just_as_far_as_asked():
    widened = widen(rows_of([1.5**n for n in range(20)]), LEAST, 0.1)
    assert widened.needed
    assert widened.after == pytest.approx(LEAST, abs=1e-6)


@settings(deadline=None, derandomize=True)
@given(st.lists(st.floats(1e-6, 1e6), min_size=2, max_size=30), st.floats(0.3, 1.0))
def test_the_order_of_weights_stays_and_no_history_is_lost(weights, widest):
    before = rows_of(weights)
    widened = widen(before, LEAST, widest)
    order = np.argsort(before.weight, kind="stable")
    assert np.all(np.diff(widened.rows.weight[order]) >= -1e-12)
    assert widest <= widened.power <= 1.0
    assert widened.after >= widened.before - 1e-9


def test_a_weight_of_nothing_stays_nothing():
    widened = widen(rows_of([0.0, 1.0, 1e-3, 1e-6]), LEAST, 0.3)
    assert widened.rows.weight[0] == 0.0


def test_rare_sets_go_with_their_leading_niche_then_its_machine():
    sets = [(0, 3), (0, 4), (1, 3), (2, -1)]
    sources = np.full((80, 3), -1, np.int32)
    sources[:, :2] = [sets[0]] * 20 + [sets[1]] * 20 + [sets[2]] * 20 + [sets[3]] * 20
    rows = HypothesisRows(np.arange(80, dtype=np.int32), sources, np.full(80, 1 / 80), np.zeros(80, np.int16))
    labels = labels_of(rows, ["hall"] * 5, 30.0, machine_of=["slicer", "slicer", "packer", "tray", "tray"])
    own = labels.of_row
    assert own[0] == own[20]
    assert labels.count >= 2
