"""What a laboratory result means when the model of a site may be wrong."""

from dataclasses import dataclass
from math import exp

from scipy.special import betaln

from swabwright.errors import SwabwrightError
from swabwright.plant.figures import Figures


@dataclass(frozen=True)
class DetectionModel:
    """Figures of a result: discrepancy of a site, unexplained share, background rate, false positives.

    sigma: ln standard deviation of a site's discrepancy (median 1). unexplained: share of sites whose results the
    model does not explain; their rate of detections is Beta(background_a, background_b).
    """

    sigma: float
    unexplained: float
    background_a: float
    background_b: float
    false_positive: float

    def background(self, detected: int, silent: int) -> float:
        """Chance U(m, n) of m detections and n silent results at a site that the model does not explain."""
        return beta_moment(detected, silent, self.background_a, self.background_b)


def beta_moment(detected: int, silent: int, first: float, second: float) -> float:
    """E[theta^m (1 - theta)^n] for theta ~ Beta(first, second), by ratios of beta functions."""
    return exp(float(betaln(first + detected, second + silent) - betaln(first, second)))


def detection_model(figures: Figures) -> DetectionModel:
    """The figures of a result from the registry, refused where they are no chances."""
    model = DetectionModel(
        sigma=figures.number("detection.sigma"),
        unexplained=figures.number("detection.unexplained"),
        background_a=figures.number("background.beta_a"),
        background_b=figures.number("background.beta_b"),
        false_positive=figures.number("detection.false_positive"),
    )
    # at 1 nothing would be explained and every plan would be worthless
    for name, value in (("unexplained", model.unexplained), ("false_positive", model.false_positive)):
        if not 0 <= value < 1:
            raise SwabwrightError(f"figure 'detection.{name}' is {value}; it is a chance, from 0 to below 1")
    if model.sigma < 0 or min(model.background_a, model.background_b) <= 0:
        raise SwabwrightError("'detection.sigma' must be at least 0, 'background.beta_a' and 'beta_b' above 0")
    return model
