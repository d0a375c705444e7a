"""A series of temperatures, cut where a model has a kink."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.detection.predictive.series import TemperatureSeries
from swabwright.errors import DocumentRefused

TEMPERATURES = st.floats(-20.0, 60.0)


@st.composite
def series(draw):
    steps = draw(st.lists(st.floats(0.05, 12.0), min_size=1, max_size=6))
    hours = np.concatenate([[0.0], np.cumsum(steps)]).tolist()
    return TemperatureSeries(tuple(hours), tuple(draw(TEMPERATURES) for _ in hours))


@given(series(), TEMPERATURES, TEMPERATURES)
def test_pieces_fill_the_series_from_its_first_reading_to_its_last(series, low, high):
    lengths, first, last = series.pieces((low, high))
    assert lengths.sum() == pytest.approx(series.hours[-1] - series.hours[0])
    assert (first[0], last[-1]) == (series.temperatures_c[0], series.temperatures_c[-1])


@given(series(), TEMPERATURES)
def test_no_piece_crosses_a_kink(series, kink):
    _, first, last = series.pieces((kink,))
    assert np.all((np.minimum(first, last) >= kink - 1e-9) | (np.maximum(first, last) <= kink + 1e-9))


@given(series())
def test_each_piece_begins_where_the_one_before_ends(series):
    _, first, last = series.pieces((5.0, 30.0))
    assert first[1:].tolist() == last[:-1].tolist()


def test_a_line_that_crosses_two_kinks_is_cut_twice():
    lengths, first, last = TemperatureSeries((0.0, 10.0), (0.0, 50.0)).pieces((5.0, 45.0))
    assert lengths.tolist() == pytest.approx([1.0, 8.0, 1.0])
    assert first.tolist() == pytest.approx([0.0, 5.0, 45.0])
    assert last.tolist() == pytest.approx([5.0, 45.0, 50.0])


def test_a_level_line_is_left_whole_even_on_a_kink():
    lengths, first, last = TemperatureSeries((0.0, 3.0, 5.0), (5.0, 5.0, 5.0)).pieces((5.0, 30.0))
    assert lengths.tolist() == [3.0, 2.0]
    assert set(first.tolist() + last.tolist()) == {5.0}


def test_readings_come_as_pairs():
    assert TemperatureSeries.of([(0.0, 4.0), (2.5, 6.0)]) == TemperatureSeries((0.0, 2.5), (4.0, 6.0))


def test_every_fault_of_a_series_is_told_at_once():
    with pytest.raises(DocumentRefused, match=r"readings\[1\].*\n.*readings\[3\]"):
        TemperatureSeries((0.0, 0.0, 1.0, 1.0), (1.0, 2.0, 3.0, 4.0))
