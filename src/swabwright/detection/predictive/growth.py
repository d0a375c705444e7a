"""Growth over a series of temperatures, with or without a lag, and the level it leads to."""

from dataclasses import dataclass
from math import exp, expm1, isfinite, log, log1p

import numpy as np

from swabwright.detection.predictive.models import GrowthModel
from swabwright.detection.predictive.series import TemperatureSeries
from swabwright.detection.statistics.arrays import Array
from swabwright.errors import SwabwrightError

LN_10 = log(10.0)
HOURS_A_DAY = 24.0
PLACES, WEIGHTS = np.polynomial.legendre.leggauss(16)
"""Gauss-Legendre nodes per piece of line: exact for the square-root model, to rounding for the cardinal one."""
LARGEST_EXPONENT = 700.0


@dataclass(frozen=True)
class Growth:
    """How far an organism grows over a series of temperatures."""

    value: float
    """log10 units."""
    hours: float
    hours_with_growth: float
    sentence: str


def growth_over(series: TemperatureSeries, model: GrowthModel, lag_work: float = 0.0) -> Growth:
    """The growth in log10 units over a series of temperatures, straight lines between its readings.

    lag_work: work to be done before growth at full rate, ln units, 0 or more: the product of rate and lag time; 0
    leaves the lag out, which is the upper end. Formula: ln(1 + e^(-h) (e^F - 1)), F the integral of the rate in
    ln units. Source: Baranyi and Roberts, Int J Food Microbiol 1994;23:277-294, far below capacity.
    Errors: SwabwrightError.
    """
    if not (isfinite(lag_work) and lag_work >= 0.0):
        raise SwabwrightError(f"lag_work: {lag_work:g} is not a finite number of 0 or more")
    lengths, full = _by_piece(series, model)
    value = _after_lag(float(full.sum()) * LN_10, lag_work) / LN_10
    hours = series.hours[-1] - series.hours[0]
    growing = float(lengths[full > 0.0].sum())
    without = "no lag allowed for" if lag_work == 0.0 else f"a lag of {lag_work:g} ln units allowed for"
    said = (
        f"{value:.2f} log10 units of growth in {hours:.4g} h, {growing:.4g} h of them warm enough to grow; {without}."
    )
    return Growth(value, hours, growing, said)


def level_after(start_log10: float, growth_log10: float, capacity_log10: float) -> float:
    """The level, log10 of a number, after growth that slows as it nears the capacity.

    start and capacity in the same log10 unit, start not above capacity; growth 0 or more, as if unhindered. Logistic,
    as in Baranyi and Roberts, Int J Food Microbiol 1994;23:277-294. Errors: SwabwrightError.
    """
    if not start_log10 <= capacity_log10:
        raise SwabwrightError(f"start_log10: {start_log10:g} is above the capacity of {capacity_log10:g}")
    if not growth_log10 >= 0.0:
        raise SwabwrightError(f"growth_log10: {growth_log10:g} is below 0; die-off is not growth")
    growth, room = growth_log10 * LN_10, (capacity_log10 - start_log10) * LN_10
    if growth > LARGEST_EXPONENT:
        return capacity_log10
    return start_log10 + (growth - log1p(expm1(growth) * exp(-room))) / LN_10


def _by_piece(series: TemperatureSeries, model: GrowthModel) -> tuple[Array, Array]:
    """Length in hours and growth in log10 units at full rate of each piece of the series."""
    # Between kinks the rate is smooth along a line, which is what the nodes are good at.
    lengths, first, last = series.pieces(model.kinks_c)
    temperatures = first[:, None] + (last - first)[:, None] * (PLACES + 1.0) / 2.0
    grown: Array = lengths / HOURS_A_DAY * (model.rate(temperatures) @ (WEIGHTS / 2.0))
    return lengths, grown


def _after_lag(full: float, lag_work: float) -> float:
    if full > LARGEST_EXPONENT:
        # Whatever the lag, so much growth has used it up.
        return full - lag_work
    return log1p(exp(-lag_work) * expm1(full))
