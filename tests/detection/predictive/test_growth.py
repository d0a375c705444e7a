"""Growth over a series of temperatures: closed forms, laws of the models, and refusals."""

from itertools import pairwise
from math import exp, log

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from swabwright.detection.predictive.growth import growth_over, level_after
from swabwright.detection.predictive.models import Cardinal, SquareRoot
from swabwright.detection.predictive.organisms import MODELS, cardinal_of, organisms_with_models, square_root_of
from swabwright.detection.predictive.series import TemperatureSeries
from swabwright.errors import DocumentRefused, SwabwrightError
from swabwright.plant.registry import load_figures
from swabwright.work.grow import grow

FIGURES = load_figures()
SQUARE_ROOT = SquareRoot(0.071, -0.3, 37.0)
CARDINAL = Cardinal(10.0, 4.0, 37.0, 46.0)
BOTH = [SQUARE_ROOT, CARDINAL]
TEMPERATURES = st.floats(-20.0, 60.0)


@st.composite
def series(draw):
    steps = draw(st.lists(st.floats(0.05, 12.0), min_size=1, max_size=6))
    hours = np.concatenate([[0.0], np.cumsum(steps)]).tolist()
    return TemperatureSeries(tuple(hours), tuple(draw(TEMPERATURES) for _ in hours))


def one_rate(model, temperature_c):
    return float(model.rate(np.array([temperature_c]))[0])


@given(st.floats(1.0, 36.0), st.floats(0.5, 200.0))
def test_at_a_steady_temperature_growth_is_rate_times_time(temperature, hours):
    steady = TemperatureSeries((0.0, hours), (temperature, temperature))
    assert growth_over(steady, SQUARE_ROOT).value == pytest.approx((0.071 * (temperature + 0.3)) ** 2 * hours / 24)


@given(st.floats(-0.3, 30.0), st.floats(-0.3, 30.0))
def test_on_a_slope_the_square_root_model_has_a_closed_form(first, last):
    a, b = first + 0.3, last + 0.3
    # The mean of (T - Tmin) squared over a straight line from a to b.
    expected = 0.071**2 * (a * a + a * b + b * b) / 3
    grown = growth_over(TemperatureSeries((0.0, 24.0), (first, last)), SQUARE_ROOT).value
    assert grown == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize("model", BOTH, ids=["square-root", "cardinal"])
@given(series())
def test_growth_is_the_integral_of_the_rate(model, series):
    def rate(hours):
        return one_rate(model, np.interp(hours, series.hours, series.temperatures_c)) / 24

    edges = np.concatenate([[0.0], np.cumsum(series.pieces(model.kinks_c)[0])])
    expected = sum(quad(rate, low, high)[0] for low, high in pairwise(edges))
    assert growth_over(series, model).value == pytest.approx(expected, rel=1e-6, abs=1e-9)


@given(series(), st.floats(0.05, 0.95))
def test_a_reading_more_on_the_line_changes_nothing(series, share):
    at = series.hours[0] + share * (series.hours[1] - series.hours[0])
    between = float(np.interp(at, series.hours, series.temperatures_c))
    hours = (series.hours[0], at, *series.hours[1:])
    more = TemperatureSeries(hours, (series.temperatures_c[0], between, *series.temperatures_c[1:]))
    assert growth_over(more, CARDINAL).value == pytest.approx(growth_over(series, CARDINAL).value, rel=1e-6, abs=1e-9)


@given(TEMPERATURES)
def test_the_cardinal_model_is_highest_at_the_optimum_and_nothing_outside(temperature):
    rate = one_rate(CARDINAL, temperature)
    assert 0.0 <= rate <= one_rate(CARDINAL, 37.0) + 1e-12
    assert rate == 0.0 or 4.0 < temperature < 46.0


def test_the_cardinal_model_takes_its_three_temperatures_and_its_height():
    assert [one_rate(CARDINAL, t) for t in (4.0, 37.0, 46.0)] == pytest.approx([0.0, 10.0, 0.0])


@given(series(), st.floats(0.01, 5.0))
def test_a_lag_takes_away_no_more_than_its_work(series, work):
    full, lagged = growth_over(series, SQUARE_ROOT).value, growth_over(series, SQUARE_ROOT, work).value
    assert full - work / log(10) - 1e-9 <= lagged <= full


def test_after_much_growth_the_whole_lag_is_lost():
    long = TemperatureSeries((0.0, 3000.0), (25.0, 25.0))
    full, lagged = growth_over(long, SQUARE_ROOT).value, growth_over(long, SQUARE_ROOT, 2.0).value
    assert full - lagged == pytest.approx(2.0 / log(10))


def test_hours_with_growth_are_those_above_the_minimum():
    up = TemperatureSeries((0.0, 10.0, 20.0), (-10.0, 10.0, 10.0))
    assert growth_over(up, Cardinal(10.0, 5.0, 37.0, 46.0)).hours_with_growth == pytest.approx(12.5)


@given(st.floats(0.0, 8.0), st.floats(0.0, 30.0))
def test_growth_slows_toward_the_capacity_and_never_passes_it(start, growth):
    level = level_after(start, growth, 8.0)
    assert start - 1e-9 <= level <= min(start + growth, 8.0) + 1e-9


def test_half_way_to_the_capacity_by_the_logistic_formula():
    # From 1 in 1000 of the capacity, 1000-fold growth: K / (1 + (K / N - 1) / e^F) with K / N = 1000, e^F = 1000.
    assert 10 ** level_after(5.0, 3.0, 8.0) == pytest.approx(1e8 / (1 + 999 / 1000))


def test_growth_beyond_counting_ends_at_the_capacity():
    assert level_after(0.0, 1e6, 8.0) == 8.0


@pytest.mark.parametrize("name", sorted(MODELS))
@pytest.mark.parametrize("organism", organisms_with_models(FIGURES))
def test_every_organism_grows_at_30_c_by_either_model(organism, name):
    assert one_rate(MODELS[name](FIGURES, organism), 30.0) > 1.0


def test_figures_that_are_derived_give_back_what_they_were_derived_from():
    listeria = [one_rate(of(FIGURES, "listeria_monocytogenes"), 5.0) for of in (square_root_of, cardinal_of)]
    assert listeria == pytest.approx([0.14, 0.14], abs=0.003)
    salmonella = [one_rate(of(FIGURES, "salmonella"), 10.0) for of in (square_root_of, cardinal_of)]
    assert salmonella == pytest.approx([0.60, 0.60], abs=0.02)
    assert one_rate(square_root_of(FIGURES, "cronobacter"), 22.0) / 24 == pytest.approx(0.45, abs=0.01)
    assert one_rate(cardinal_of(FIGURES, "cronobacter"), 35.0) / 24 == pytest.approx(0.73, abs=0.01)


def test_the_lag_formula_by_hand():
    day = TemperatureSeries((0.0, 24.0), (20.0, 20.0))
    full = (0.071 * 20.3) ** 2 * log(10)
    expected = log(1 + exp(-1.0) * (exp(full) - 1)) / log(10)
    assert growth_over(day, SQUARE_ROOT, 1.0).value == pytest.approx(expected)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: grow([(0, 4), (1, 5)], "salmonela", FIGURES, model="cardinal"), "did you mean 'salmonella'"),
        (lambda: grow([(0, 4), (1, 5)], "salmonella", FIGURES, model="cubic"), "model: no growth model 'cubic'"),
        (lambda: grow([(0, 4), (1, 5)], "salmonella", FIGURES, model="cardinal", lag_work=-1), "lag_work: -1"),
        (lambda: SquareRoot(0.0, 1, 37), "square-root model: 0 must be a finite number above 0"),
        (lambda: SquareRoot(0.1, 37, 1), "square-root model: its temperatures must rise, not 37, 1"),
        (lambda: Cardinal(1.0, 4, 46, 37), "cardinal model: its temperatures must rise, not 4, 46, 37"),
        (lambda: Cardinal(1.0, 4, 10, 46), "the optimum 10 C is nearer to the minimum than to the maximum"),
        (lambda: level_after(9.0, 1.0, 8.0), "start_log10: 9 is above the capacity of 8"),
        (lambda: level_after(1.0, -1.0, 8.0), "growth_log10: -1 is below 0"),
    ],
)
def test_a_wrong_argument_is_named(call, says):
    with pytest.raises(SwabwrightError, match=says):
        call()


@pytest.mark.parametrize(
    ("hours", "temperatures", "says"),
    [
        ((0.0,), (4.0,), "fewer than two readings"),
        ((0.0, 1.0), (4.0,), "2 times for 1 temperatures"),
        ((0.0, 2.0, 1.0), (4.0, 5.0, 6.0), r"readings\[2\]: 1 h is not later than 2 h"),
        ((0.0, 1.0), (4.0, float("nan")), r"readings\[1\]: 1 h, nan C is not a reading"),
    ],
)
def test_a_faulty_series_is_refused_with_the_reading(hours, temperatures, says):
    with pytest.raises(DocumentRefused, match=says):
        TemperatureSeries(hours, temperatures)
