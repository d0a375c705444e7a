"""Shares and dots of where it may live."""

import numpy as np
import pytest
from builders.known import tiny_known
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.belief.believe import believe
from swabwright.belief.rows import HypothesisRows
from swabwright.belief.shares import believed, dots_of, shares

NAMES = tuple("abcdefgh")


def test_a_row_spreads_its_weight_equally_over_its_niches() -> None:
    sources = np.array([[0, -1, -1], [1, 2, -1], [0, 1, 2]], np.int32)
    rows = HypothesisRows(np.zeros(3, np.int32), sources, np.array([0.5, 0.2, 0.3]), np.zeros(3, np.int16))
    assert shares(rows, 3) == pytest.approx([0.6, 0.2, 0.2])


def test_order_of_niches_in_a_row_is_irrelevant() -> None:
    sources = np.array([[1, 2, -1], [2, 0, 1]], np.int32)
    rows = HypothesisRows(np.zeros(2, np.int32), sources, np.array([0.4, 0.6]), np.zeros(2, np.int16))
    turned = HypothesisRows(rows.history, np.array([[2, 1, -1], [1, 2, 0]], np.int32), rows.weight, rows.copy)
    assert shares(rows, 3) == pytest.approx(shares(turned, 3))


@given(st.lists(st.floats(0.001, 1), min_size=8, max_size=8))
@settings(deadline=None, derandomize=True)
def test_dots_are_exactly_a_thousand_and_within_one_of_the_share(parts: list[float]) -> None:
    share = np.array(parts) / sum(parts)
    dots = dots_of(share, NAMES)
    assert dots.sum() == 1000
    assert np.abs(dots - share * 1000).max() < 1


def test_equal_remainders_go_by_name_and_not_by_position() -> None:
    share = np.full(8, 1 / 8)
    assert list(dots_of(share, NAMES, 12)) == [2, 2, 2, 2, 1, 1, 1, 1]
    assert list(dots_of(share, NAMES[::-1], 12)) == [1, 1, 1, 1, 2, 2, 2, 2]


def test_believed_places_bear_the_plants_own_names() -> None:
    places = {one.place: one.name for one in believed(believe(tiny_known(), 1500))}
    assert places["S001"] == "slicer_blade 1"
    assert places["room:wash"] == "rest of Wash"
    assert places["line:line-a"] == "incoming material of Line A"


def test_believed_shares_sum_to_one_likeliest_first() -> None:
    found = believed(believe(tiny_known(), 1500))
    assert sum(one.share for one in found) == pytest.approx(1)
    assert [one.share for one in found] == sorted((one.share for one in found), reverse=True)
    assert sum(one.dots for one in found) == 1000
