"""What share of the cells in a container is still alive when analysis starts, by the way it really travelled."""

from dataclasses import dataclass

import numpy as np

from swabwright.detection.predictive.series import TemperatureSeries
from swabwright.detection.recovery import HOURS_A_DAY
from swabwright.plant.figures import Figures


@dataclass(frozen=True)
class Journey:
    """A sample's way: hours from collection to analysis, the temperatures that are known, and the one agreed."""

    hours: float
    agreed_c: float
    """Taken for the hours of which nothing is known."""
    runs: tuple[TemperatureSeries, ...] = ()


def kept_on_journey(journey: Journey, figures: Figures) -> float:
    """Share alive after a journey, at most 1: loss by the hour when warm or cold, and once when it froze.

    Without any reading it is the share of the planned transport. Growth on the way is never counted as gained.
    """
    freezing = figures.number("viability.frozen_below_c")
    warm = figures.number("viability.warm_above_c")
    pieces = [run.pieces((freezing, warm)) for run in journey.runs]
    lengths = [float(length) for lengths, _, _ in pieces for length in lengths]
    middles = [float(middle) for _, first, last in pieces for middle in (first + last) / 2]
    # hours without a reading are taken as agreed: nothing says otherwise
    unknown = max(0.0, journey.hours - sum(lengths))
    if unknown > 0 or not lengths:
        lengths, middles = [*lengths, unknown], [*middles, journey.agreed_c]
    temperatures = np.array(middles)
    rates = np.where(
        temperatures > warm,
        figures.number("viability.warm_loss_log10_per_day"),
        figures.number("viability.cold_loss_log10_per_day"),
    )
    loss = float(np.dot(rates, lengths)) / HOURS_A_DAY
    survived = figures.number("viability.kept_when_frozen") if (temperatures < freezing).any() else 1.0
    return float(min(1.0, survived * 10.0**-loss))
