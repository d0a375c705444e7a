"""POD and LOD50 by the complementary log-log curve with offset."""

from math import exp, log

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.detection_level import detection_level
from swabwright.detection.statistics.poisson_fit import Level

STUDY = (Level(0.3, 20, 5), Level(1, 20, 12), Level(5, 20, 19))
LEVELS = (0.2, 0.7, 2.0, 6.0)


def exact_study(found_share, slope=1.0, portions=10**7):
    """Portions detected as often as the curve says, but for rounding to whole ones."""
    chances = [1 - exp(-found_share * amount**slope) for amount in LEVELS]
    return [Level(amount, portions, round(portions * one)) for amount, one in zip(LEVELS, chances, strict=True)]


@given(st.integers(1, 29), st.floats(0.05, 50.0))
def test_one_level_has_a_closed_form(detected, amount):
    per_organism = -log(1 - detected / 30) / amount
    found = detection_level([Level(amount, 30, detected)], 0.95)
    assert found.value == pytest.approx(log(2) / per_organism)
    assert (found.slope, found.slope_p) == (1.0, 1.0)


@settings(max_examples=40)
@given(st.floats(0.1, 2.0))
def test_portions_that_follow_the_curve_give_the_curve_back(share):
    found = detection_level(exact_study(share), 0.95)
    assert found.sensitivity == pytest.approx(share, rel=1e-3)
    assert found.slope == pytest.approx(1.0, abs=0.01)


@pytest.mark.parametrize("slope", [0.5, 0.8, 1.5, 2.5])
def test_portions_that_follow_another_slope_show_it_and_are_doubted(slope):
    found = detection_level(exact_study(0.6, slope, 5000), 0.95)
    assert found.slope == pytest.approx(slope, rel=0.02)
    assert found.slope_p < 1e-6
    assert "the results hardly fit the curve" in found.sentence


def test_the_score_equation_of_the_offset_model_holds_at_the_estimate():
    share = detection_level(STUDY, 0.95).sensitivity
    terms = [one.positives * one.amount / (1 - exp(-share * one.amount)) - one.portions * one.amount for one in STUDY]
    assert sum(terms) == pytest.approx(0.0, abs=1e-8)


def test_half_of_the_portions_are_detected_at_the_half_level():
    found = detection_level(STUDY, 0.95)
    assert found.detected_at(found.value).value == pytest.approx(0.5)
    assert found.level_at(0.5).value == pytest.approx(found.value)


@settings(max_examples=40)
@given(st.floats(0.01, 0.99))
def test_the_level_of_a_detection_is_detected_so_often(detection):
    found = detection_level(STUDY, 0.95)
    assert found.detected_at(found.level_at(detection).value).value == pytest.approx(detection)


def test_a_level_of_another_detection_is_in_proportion_to_the_half_level():
    found = detection_level(STUDY, 0.95)
    high = found.level_at(0.95)
    assert high.value / found.value == pytest.approx(log(20) / log(2))
    assert high.interval.low / found.interval.low == pytest.approx(log(20) / log(2))
    assert high.sentence.startswith("Portions with 3.799 organisms are detected in 95 in 100 cases")


def test_limits_of_curve_and_half_level_are_the_same_statement():
    found = detection_level(STUDY, 0.95)
    at_low = found.detected_at(found.interval.low).interval
    assert at_low.high == pytest.approx(0.5)
    assert found.interval.low < found.value < found.interval.high


@settings(max_examples=40)
@given(st.floats(0.001, 1000.0))
def test_levels_in_another_unit_change_only_the_unit(factor):
    other = [Level(one.amount * factor, one.portions, one.positives) for one in STUDY]
    found, scaled = detection_level(STUDY, 0.95), detection_level(other, 0.95)
    assert scaled.value == pytest.approx(found.value * factor)
    assert scaled.slope == pytest.approx(found.slope, rel=1e-3)


def test_ten_times_the_portions_narrow_the_interval_by_their_root():
    def width(times):
        found = detection_level([Level(o.amount, o.portions * times, o.positives * times) for o in STUDY], 0.95)
        return log(found.interval.high / found.interval.low)

    assert width(1) / width(10) == pytest.approx(10**0.5)


def test_a_step_from_nothing_to_everything_has_no_finite_slope():
    assert detection_level([Level(1, 20, 0), Level(2, 20, 10), Level(4, 20, 20)], 0.95).slope > 3


@pytest.mark.parametrize(
    ("call", "names"),
    [
        (lambda: detection_level([Level(1, 20, 0)], 0.95), "nothing was detected; the half level lies above 4.628"),
        (lambda: detection_level([Level(1, 20, 20)], 0.95), "every portion was detected; the half level lies below"),
        (lambda: detection_level([], 0.95), "levels: give at least one"),
        (lambda: detection_level(STUDY, 0.0), "level: 0"),
        (lambda: detection_level([Level(1e-20, 3, 0), Level(1e20, 3, 3)], 0.9), r"levels: amounts differ more than"),
        (lambda: detection_level(STUDY, 0.95).level_at(1.0), "detection: 1"),
        (lambda: detection_level(STUDY, 0.95).detected_at(0.0), "amount: 0"),
    ],
)
def test_a_wrong_argument_is_named(call, names):
    with pytest.raises(ArgumentRefused, match=names):
        call()
