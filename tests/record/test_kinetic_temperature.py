"""The mean kinetic temperature: closed forms, figures worked out by hand, and laws."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.plant.registry import load_figures
from swabwright.record.kinetic_temperature import mean_kinetic_c
from swabwright.record.readings import Readings

ENERGY = load_figures().number("cold_chain.activation_energy_kj_per_mol")
HOUR = 3600
SERIES = st.lists(st.floats(-30, 45), min_size=2, max_size=12)


def level(hours, temperature_c):
    return Readings((0, hours * HOUR), (temperature_c, temperature_c))


def line(temperatures_c):
    return Readings(tuple(300 * place for place in range(len(temperatures_c))), tuple(temperatures_c))


# (E / R) / -ln((h1 exp(-E / (R T1)) + h2 exp(-E / (R T2))) / (h1 + h2)) - 273.15 with E = 83.144 kJ/mol and
# R = 8.31446261815324 J/(mol K), worked out in decimal arithmetic of 40 digits.
BY_HAND = [
    ((23, 4.0), (1, 25.0), 7.083477),
    ((1, 5.0), (1, 25.0), 19.697695),
]


@pytest.mark.parametrize(("first", "second", "expected"), BY_HAND)
def test_two_levels_give_what_is_worked_out_by_hand(first, second, expected):
    assert mean_kinetic_c([level(*first), level(*second)], ENERGY) == pytest.approx(expected, abs=1e-6)


@settings(deadline=None, derandomize=True)
@given(st.floats(-40, 60), st.integers(1, 1000))
def test_a_constant_temperature_is_its_own_mean(temperature_c, hours):
    assert mean_kinetic_c([level(hours, temperature_c)], ENERGY) == pytest.approx(temperature_c, abs=1e-9)


@settings(deadline=None, derandomize=True)
@given(SERIES)
def test_it_lies_between_the_plain_mean_and_the_highest(temperatures_c):
    run = line(temperatures_c)
    plain = sum((a + b) / 2 for a, b in pairwise(temperatures_c))
    mean = plain / (len(temperatures_c) - 1)
    assert mean - 1e-9 <= mean_kinetic_c([run], ENERGY) <= max(temperatures_c) + 1e-9


@settings(deadline=None, derandomize=True)
@given(SERIES, st.integers(1, 100))
def test_a_run_split_at_a_reading_gives_the_same(temperatures_c, where):
    run, cut = line(temperatures_c), where % len(temperatures_c)
    parts = [
        Readings(run.seconds[: cut + 1], run.temperatures_c[: cut + 1]),
        Readings(run.seconds[cut:], run.temperatures_c[cut:]),
    ]
    assert mean_kinetic_c(parts, ENERGY) == pytest.approx(mean_kinetic_c([run], ENERGY), abs=1e-9)


@settings(deadline=None, derandomize=True)
@given(SERIES)
def test_more_time_at_the_mean_leaves_it_where_it_is(temperatures_c):
    mean = mean_kinetic_c([line(temperatures_c)], ENERGY)
    assert mean_kinetic_c([line(temperatures_c), level(7, mean)], ENERGY) == pytest.approx(mean, abs=1e-8)


def test_a_slope_agrees_with_many_small_steps():
    steps = [Readings((0, 1), (at / 100, at / 100)) for at in range(0, 2500)]
    slope = Readings((0, 2500), (0.0, 25.0))
    assert mean_kinetic_c([slope], ENERGY) == pytest.approx(mean_kinetic_c(steps, ENERGY), abs=0.01)


@pytest.mark.parametrize("lines", [[], [Readings((5,), (4.0,))]])
def test_without_any_time_there_is_no_mean(lines):
    assert mean_kinetic_c(lines, ENERGY) is None
