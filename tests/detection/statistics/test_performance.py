"""What a test's performance says of apparent shares, and what a validation study leaves open."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.detection.statistics.performance import Performance, Validation

TESTS = st.builds(Performance, st.floats(0.55, 1.0), st.floats(0.55, 1.0))


@given(TESTS)
def test_everything_or_nothing_contaminated_shows_sensitivity_or_false_alarms(test):
    assert test.apparent(1.0) == pytest.approx(test.unit_sensitivity)
    assert test.apparent(0.0) == pytest.approx(test.false_positive)


@given(TESTS, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_more_contamination_shows_more_positives(test, one, other):
    less, more = sorted((one, other))
    assert test.apparent(less) <= test.apparent(more) + 1e-15


@given(st.floats(0.0, 1.0))
def test_a_perfect_test_shows_what_is_there(prevalence):
    assert Performance().apparent(prevalence) == prevalence


def test_a_study_is_observed_as_its_two_shares():
    observed = Validation(50, 40, 100, 97).observed
    assert (observed.unit_sensitivity, observed.unit_specificity) == (0.8, 0.97)


def test_a_sensitivity_of_a_tenth_is_allowed_where_nothing_is_falsely_detected():
    assert Performance(0.1).apparent(0.5) == pytest.approx(0.05)
