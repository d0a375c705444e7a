"""Use case: how far an organism could have grown at the temperatures of a transport or a room."""

from collections.abc import Sequence

from swabwright.detection.predictive.growth import Growth, growth_over
from swabwright.detection.predictive.organisms import MODELS
from swabwright.detection.predictive.series import TemperatureSeries
from swabwright.errors import DocumentRefused, Fault, SwabwrightError, did_you_mean
from swabwright.plant.figures import Figures


def grow(
    readings: Sequence[tuple[float, float]], organism: str, figures: Figures, *, model: str, lag_work: float = 0.0
) -> Growth:
    """The growth of an organism in rich food over readings of (hours, C), by one of the two models.

    Errors: SwabwrightError naming the reading, the organism or the model.
    """
    if model not in MODELS:
        raise SwabwrightError(f"model: no growth model '{model}'{did_you_mean(model, list(MODELS))}")
    _held_by_a_logger(readings, figures)
    return growth_over(TemperatureSeries.of(readings), MODELS[model](figures, organism), lag_work)


def _held_by_a_logger(readings: Sequence[tuple[float, float]], figures: Figures) -> None:
    """Refuse a temperature that only a slip of the pen gives, as a logger's file with it would be."""
    coldest, warmest = (figures.number(f"cold_chain.{name}_reading_c") for name in ("coldest", "warmest"))
    wrong = [
        Fault(f"readings[{number}]", f"{degrees:g} C lies outside {coldest:g} to {warmest:g} C; write it in degrees C")
        for number, (_, degrees) in enumerate(readings)
        if degrees < coldest or degrees > warmest
    ]
    if wrong:
        raise DocumentRefused("temperatures", wrong)
