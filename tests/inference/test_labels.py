"""What is told apart, and what is taken together."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.belief.rows import HypothesisRows
from swabwright.inference.labels import labels_of, merged

ROOMS = ("kitchen", "kitchen", "store", "line:l0")


def rows_of(sets: list[tuple[int, ...]], weight: np.ndarray | None = None) -> HypothesisRows:
    sources = np.full((len(sets), 3), -1, np.int32)
    for place, one in enumerate(sets):
        sources[place, : len(one)] = one
    history = np.arange(len(sets), dtype=np.int32)
    even = np.full(len(sets), 1 / len(sets)) if weight is None else weight
    return HypothesisRows(history, sources, even, np.zeros(len(sets), np.int16))


def test_the_order_of_niches_makes_no_other_label() -> None:
    labels = labels_of(rows_of([(0, 1)] * 5 + [(1, 0)] * 5), ROOMS, least=8)
    assert labels.count == 1


def test_sets_met_too_rarely_go_together_by_room_then_all_together() -> None:
    labels = labels_of(rows_of([(2,)] * 10 + [(0,)] * 4 + [(1,)] * 4 + [(3,)] * 2), ROOMS, least=6)
    own = labels.of_row.tolist()
    assert len({own[0], own[10], own[18]}) == labels.count == 3
    assert own[10] == own[14]


def test_a_set_carried_by_one_heavy_row_is_not_told_apart() -> None:
    weight = np.array([0.8, *[0.01] * 20])
    labels = labels_of(rows_of([(0,)] * 11 + [(2,)] * 10, weight), ROOMS, least=5)
    assert labels.count == 2
    assert labels_of(rows_of([(0,)] * 11 + [(2,)] * 10, weight), ROOMS, least=11).count == 1


@given(st.lists(st.integers(0, 3), min_size=5, max_size=60))
@settings(deadline=None, derandomize=True)
def test_every_label_but_the_rest_has_rows_enough(sources: list[int]) -> None:
    labels = labels_of(rows_of([(one,) for one in sources]), ROOMS, least=5)
    sizes = sorted(np.bincount(labels.of_row, minlength=labels.count))
    assert all(size >= 5 for size in sizes[1:])
    assert labels.of_row.max() == labels.count - 1


def test_bits_of_even_labels_are_their_logarithm() -> None:
    labels = labels_of(rows_of([(one,) for one in (0, 1, 2, 3) for _ in range(5)]), ROOMS, least=5)
    assert labels.bits(np.full(20, 0.05)) == pytest.approx(2.0)


def test_merging_keeps_the_weight_of_every_hypothesis() -> None:
    rows = rows_of([(0,), (1, 2), (2, 1), (0,)])
    repeated = HypothesisRows(np.array([4, 5, 5, 4], np.int32), rows.sources, rows.weight, np.zeros(4, np.int16))
    one = merged(repeated)
    assert sorted(one.weight.tolist()) == [0.5, 0.5]
    assert sorted(one.history.tolist()) == [4, 5]
