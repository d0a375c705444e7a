"""Use case: how far an organism could have grown at the temperatures of a transport or a room."""

from collections.abc import Sequence

from swabwright.detection.predictive.growth import Growth, growth_over
from swabwright.detection.predictive.organisms import MODELS
from swabwright.detection.predictive.series import TemperatureSeries
from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.figures import Figures


def grow(
    readings: Sequence[tuple[float, float]], organism: str, figures: Figures, *, model: str, lag_work: float = 0.0
) -> Growth:
    """The growth of an organism in rich food over readings of (hours, C), by one of the two models.

    Errors: SwabwrightError naming the reading, the organism or the model.
    """
    if model not in MODELS:
        raise SwabwrightError(f"model: no growth model '{model}'{did_you_mean(model, list(MODELS))}")
    return growth_over(TemperatureSeries.of(readings), MODELS[model](figures, organism), lag_work)
