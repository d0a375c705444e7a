"""What a number of samples has to reach, and the refusal when none does."""

from dataclasses import dataclass

from swabwright.detection.statistics.checks import count, inner_probability, probability
from swabwright.errors import SwabwrightError

HAIR = 1e-12
"""Rounding allowed when a chance is compared with its aim."""
MOST_SEARCHED = 5000
"""The largest number of samples that a search looks at, unless told otherwise."""


class OutOfReach(SwabwrightError):
    """No number of samples reaches the aim; says the best that can be reached and what would help."""


@dataclass(frozen=True)
class Aim:
    """What the samples have to reach.

    system_sensitivity: chance of more positives than the cut-point when it is present at the design prevalence.
    system_specificity: chance of no more than the cut-point when it is absent; matters only where false positives can
    occur.
    cut_point: the largest number of positives that still counts as not detected; None lets the search choose it.
    largest_sample: where the search ends.
    """

    system_sensitivity: float
    system_specificity: float = 0.0
    cut_point: int | None = None
    largest_sample: int = MOST_SEARCHED

    def __post_init__(self) -> None:
        inner_probability("system_sensitivity", self.system_sensitivity)
        probability("system_specificity", self.system_specificity)
        count("largest_sample", self.largest_sample, 1)
        if self.cut_point is not None:
            count("cut_point", self.cut_point)

    def met(self, sensitivity: float, specificity: float = 1.0) -> bool:
        """True when both chances reach the aim, but for rounding."""
        return reaches(sensitivity, self.system_sensitivity) and reaches(specificity, self.system_specificity)


def reaches(chance: float, aim: float) -> bool:
    """True when a chance reaches its aim, but for rounding."""
    return chance >= aim - HAIR
