"""Laws and closed forms of product tests."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.belief.product import DayTests, ProductModel, day_factor, silent_product

MODEL = ProductModel(dispersion=0.2, sensitivity=0.96, unexplained=0.02, background=0.01, false_positive=0.002)
PLAIN = ProductModel(dispersion=0.2, sensitivity=1.0, unexplained=0.0, background=0.0, false_positive=0.0)
loads = st.just(0.0) | st.floats(1e-6, 1e6)


def day(detected: list[bool], share: float = 0.001, increments: int = 5) -> DayTests:
    """Equal tests of one day."""
    return DayTests(np.full(len(detected), share), np.array(detected), increments)


def test_one_silent_test_has_the_closed_form() -> None:
    # n k = 1, lambda 3, everything explained: (1 + 3)^-1.
    assert silent_product(np.array([3.0]), 5, PLAIN)[0] == pytest.approx(0.25)


def test_no_cells_leave_only_background_and_false_positives() -> None:
    expected = 0.02 * 0.99 + 0.98 * 0.998
    assert silent_product(np.zeros(1), 5, MODEL)[0] == pytest.approx(expected)


def test_two_equal_silent_tests_of_a_day_are_one_test_of_twice_the_product() -> None:
    # The shared gamma draw makes exp(-x g) twice equal to exp(-2 x g).
    load = np.array([0.5, 20.0, 4e4])
    both = day_factor(load, day([False, False]), PLAIN)
    assert both == pytest.approx(silent_product(load * 0.002, 5, PLAIN), rel=3e-3)


@pytest.mark.parametrize("increments", [1, 5, 60])
def test_results_of_a_day_sum_to_one_over_all_outcomes(increments: int) -> None:
    load = np.array([0.0, 3.0, 900.0, 1e7])
    outcomes = [[False, False], [False, True], [True, False], [True, True]]
    total = sum(day_factor(load, day(marks, increments=increments), MODEL) for marks in outcomes)
    assert total == pytest.approx(np.ones(4), abs=1e-9)


@pytest.mark.parametrize("increments", [1, 5, 60])
def test_quadrature_agrees_with_the_closed_form_for_one_silent_test(increments: int) -> None:
    # The second test sees nothing of the product, so it only adds its own chance of staying silent.
    load = np.array([0.1, 30.0, 5e4])
    two = DayTests(np.array([0.001, 0.0]), np.array([False, False]), increments)
    assert day_factor(load, two, PLAIN) == pytest.approx(silent_product(load * 0.001, increments, PLAIN), abs=2e-4)


@given(loads, loads, st.lists(st.booleans(), min_size=1, max_size=4))
@settings(deadline=None, derandomize=True, max_examples=40)
def test_the_factor_of_a_day_is_a_chance(first: float, second: float, marks: list[bool]) -> None:
    factor = day_factor(np.array([first, second]), day(marks), MODEL)
    assert ((factor >= 0) & (factor <= 1)).all()


@given(loads, loads)
@settings(deadline=None, derandomize=True, max_examples=40)
def test_more_load_never_makes_silent_tests_likelier(first: float, second: float) -> None:
    low, high = day_factor(np.array(sorted((first, second))), day([False] * 3), MODEL)
    assert high <= low + 1e-12


def test_repeated_tests_of_one_day_say_less_than_tests_of_two_days() -> None:
    load = np.array([2000.0])
    same = day_factor(load, day([False, False]), MODEL)
    assert same[0] > day_factor(load, day([False]), MODEL)[0] ** 2
