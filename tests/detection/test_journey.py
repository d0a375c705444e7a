"""What stays alive on the way: the plan's own figure without readings, less for every warm hour, once for frost."""

import pytest
from builders.known import visit
from hypothesis import given
from hypothesis import strategies as st

from swabwright.detection.journey import Journey, kept_on_journey
from swabwright.detection.predictive.series import TemperatureSeries
from swabwright.detection.recovery import kept_in_transport
from swabwright.plant.registry import load_figures

FIGURES = load_figures()


def kept(hours, agreed_c, *runs):
    return kept_on_journey(Journey(hours, agreed_c, tuple(TemperatureSeries.of(run) for run in runs)), FIGURES)


@given(st.floats(0.1, 100), st.floats(-20, 30))
def test_without_readings_it_is_the_share_of_the_planned_transport(hours, celsius):
    planned = visit(hours_to_laboratory=hours, transport_temperature_c=celsius)
    assert kept(hours, celsius) == pytest.approx(kept_in_transport(planned, FIGURES))


def test_a_warm_day_costs_what_the_figures_say():
    # 0.2 log10 a day above 8 C, nothing below: half of the 24 hours at 12 C
    assert kept(24.0, 4.0, [(0.0, 12.0), (12.0, 12.0)]) == pytest.approx(10.0**-0.1)


def test_only_the_part_of_a_rise_above_the_limit_counts_as_warm():
    # from 4 to 12 C in 8 hours: above 8 C in the last four
    assert kept(8.0, 4.0, [(0.0, 4.0), (8.0, 12.0)]) == pytest.approx(10.0 ** (-0.2 * 4 / 24))


def test_frost_counts_once_however_long():
    short = kept(24.0, 4.0, [(0.0, 4.0), (1.0, -2.0), (2.0, 4.0)])
    assert short == pytest.approx(kept(24.0, 4.0, [(0.0, -10.0), (20.0, -10.0)]))
    assert short == pytest.approx(0.46)


@given(st.lists(st.floats(-20, 30), min_size=2, max_size=8), st.floats(10, 60), st.floats(0, 20))
def test_more_hours_never_leave_more_alive(celsius, hours, more):
    run = [(float(at), value) for at, value in enumerate(celsius)]
    assert 0.0 < kept(hours + more, 12.0, run) <= kept(hours, 12.0, run) <= 1.0
