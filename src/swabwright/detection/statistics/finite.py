"""A finite population sampled without replacement, with an imperfect test and a cut-point: exact."""

from dataclasses import dataclass
from math import ceil

import numpy as np

from swabwright.detection.statistics.aim import HAIR
from swabwright.detection.statistics.answer import Answer
from swabwright.detection.statistics.arrays import Array, Whole
from swabwright.detection.statistics.binomial import binomial_cdf, binomial_pmf
from swabwright.detection.statistics.checks import count, some_probability, within
from swabwright.detection.statistics.hypergeometric import contaminated_in_sample
from swabwright.detection.statistics.large import sensitivity_sentence
from swabwright.detection.statistics.performance import Performance
from swabwright.detection.statistics.trials import Reached


@dataclass(frozen=True)
class FinitePopulation:
    """So many units (sites, rooms, lots), so many of them contaminated at the design prevalence."""

    size: int
    contaminated: int

    def __post_init__(self) -> None:
        count("population_size", self.size, 1)
        count("contaminated", self.contaminated, 1)
        within("contaminated", self.contaminated, "population_size", self.size)

    @classmethod
    def at(cls, size: int, design_prevalence: float) -> "FinitePopulation":
        """A population with the smallest number of contaminated units whose share is at least `design_prevalence`."""
        count("population_size", size, 1)
        some_probability("design_prevalence", design_prevalence)
        # Rounded up, so that the population carries the design prevalence at least; a hair keeps 0.07 x 100 at 7.
        return cls(size, max(1, ceil(size * design_prevalence - HAIR * size)))

    @property
    def prevalence(self) -> float:
        """The share of units contaminated."""
        return self.contaminated / self.size


def exact_sensitivity(samples: int, population: FinitePopulation, test: Performance, cut_point: int = 0) -> Answer:
    """The exact chance that `samples` of the population's units give more positives than the cut-point.

    samples: different units tested, 1 to the population's size. cut_point: the largest number of positives that still
    counts as not detected. Errors: ArgumentRefused by name. Formula: with K hypergeometric contaminated units in the
    sample, P(Binomial(K, Se) + Binomial(n - K, 1 - Sp) > cut-point). Source: Cameron and Baldock, Prev Vet Med
    1998;34:1-17.
    """
    found = exact_reached(samples, population, test, cut_point)
    return Answer(found.system_sensitivity, sensitivity_sentence(found, population.prevalence))


def exact_reached(samples: int, population: FinitePopulation, test: Performance, cut_point: int) -> Reached:
    """System sensitivity of a sample without replacement, and its specificity when no unit is contaminated."""
    count("samples", samples, 1)
    within("samples", samples, "population_size", population.size)
    within("cut_point", cut_point, "samples", samples)
    weights = contaminated_in_sample(population.size, population.contaminated, samples)
    missed = float(weights @ _at_most(cut_point, np.arange(weights.size), samples, test))
    specificity = float(binomial_cdf(cut_point, samples, test.false_positive))
    return Reached(samples, cut_point, min(max(1.0 - missed, 0.0), 1.0), specificity)


def _at_most(cut_point: int, contaminated: Whole, samples: int, test: Performance) -> Array:
    """P(positives <= cut-point) for each number of contaminated units in the sample."""
    # More true positives than the cut-point can never be "at most", so the sum over them may stop there.
    true = np.arange(cut_point + 1)
    from_true = binomial_pmf(true[None, :], contaminated[:, None], test.unit_sensitivity)
    from_false = binomial_cdf(cut_point - true[None, :], (samples - contaminated)[:, None], test.false_positive)
    chances: Array = np.einsum("ij,ij->i", from_true, from_false)
    return chances
