"""How well one sample tells: unit sensitivity and unit specificity, known or uncertain."""

from dataclasses import dataclass

from swabwright.detection.statistics.checks import ArgumentRefused, count, probability, some_probability, within


@dataclass(frozen=True)
class Performance:
    """Known performance of one unit's sample, device to laboratory.

    unit_sensitivity: chance that the sample of a contaminated unit is reported as detected, above 0 to 1.
    unit_specificity: chance that the sample of an uncontaminated unit is reported as not detected, 0 to 1.
    """

    unit_sensitivity: float = 1.0
    unit_specificity: float = 1.0

    def __post_init__(self) -> None:
        some_probability("unit_sensitivity", self.unit_sensitivity)
        probability("unit_specificity", self.unit_specificity)
        if self.unit_sensitivity + self.unit_specificity <= 1.0:
            raise ArgumentRefused(
                "unit_sensitivity", "with unit_specificity it sums to 1 or less: such a test tells nothing"
            )

    @property
    def false_positive(self) -> float:
        """The chance that the sample of an uncontaminated unit is reported as detected."""
        return 1.0 - self.unit_specificity

    def apparent(self, prevalence: float) -> float:
        """The share of units reported as detected when `prevalence` of them is contaminated."""
        return prevalence * self.unit_sensitivity + (1.0 - prevalence) * self.false_positive


@dataclass(frozen=True)
class Validation:
    """A validation study: of how many known units the test was right about how many.

    contaminated, detected: known contaminated units tested, and those reported as detected.
    uncontaminated, not_detected: known uncontaminated units tested, and those reported as not detected.
    """

    contaminated: int
    detected: int
    uncontaminated: int
    not_detected: int

    def __post_init__(self) -> None:
        count("contaminated", self.contaminated, 1)
        count("uncontaminated", self.uncontaminated, 1)
        within("detected", self.detected, "contaminated", self.contaminated)
        within("not_detected", self.not_detected, "uncontaminated", self.uncontaminated)

    @property
    def observed(self) -> Performance:
        """The performance as observed, its uncertainty left out."""
        return Performance(self.detected / self.contaminated, self.not_detected / self.uncontaminated)
