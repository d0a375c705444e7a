"""A finite population and a test without false positives: exact or approximate, as the caller says."""

from collections.abc import Callable, Mapping
from math import log1p

import numpy as np

from swabwright.detection.statistics.aim import OutOfReach, reaches
from swabwright.detection.statistics.answer import Answer, SampleSize, per_100
from swabwright.detection.statistics.checks import count, inner_probability, one_of, some_probability, within
from swabwright.detection.statistics.finite import FinitePopulation
from swabwright.detection.statistics.hypergeometric import contaminated_in_sample
from swabwright.detection.statistics.large import as_sample_size, sensitivity_sentence
from swabwright.detection.statistics.trials import Reached


def finite_sensitivity(samples: int, population: FinitePopulation, unit_sensitivity: float, calculation: str) -> Answer:
    """The chance that `samples` different units of a finite population show it, at perfect specificity.

    samples: 0 to the population's size. calculation: "exact", hypergeometric, E[(1 - Se)^K]; or "approximate",
    1 - (1 - n Se / N)^D, never above the exact one (MacDiarmid, N Z Vet J 1988;36:39-42; Cameron and Baldock, Prev Vet
    Med 1998;34:1-17). Errors: ArgumentRefused by name.
    """
    value = detection_chance(samples, population, unit_sensitivity, calculation)
    return Answer(value, sensitivity_sentence(Reached(samples, 0, value, 1.0), population.prevalence))


def finite_sample_size(
    system_sensitivity: float, population: FinitePopulation, unit_sensitivity: float, calculation: str
) -> SampleSize:
    """The smallest number of a finite population's units that shows it with the chance wanted.

    Formulas, sources and arguments as of `finite_sensitivity`; the chance only rises with the number, so that a
    bisection finds it. Errors: ArgumentRefused; OutOfReach when even testing every unit once does not.
    """
    inner_probability("system_sensitivity", system_sensitivity)
    low, high = 0, population.size
    most = detection_chance(high, population, unit_sensitivity, calculation)
    if not reaches(most, system_sensitivity):
        raise OutOfReach(
            f"system_sensitivity: all {population.size} units tested once reach {per_100(most)}, not "
            f"{per_100(system_sensitivity)}; test units more than once, or aim lower"
        )
    while high - low > 1:
        middle = (low + high) // 2
        enough = reaches(detection_chance(middle, population, unit_sensitivity, calculation), system_sensitivity)
        low, high = (low, middle) if enough else (middle, high)
    reached = detection_chance(high, population, unit_sensitivity, calculation)
    return as_sample_size(Reached(high, 0, reached, 1.0), population.prevalence)


def detection_chance(samples: int, population: FinitePopulation, unit_sensitivity: float, calculation: str) -> float:
    """The bare chance of `finite_sensitivity`."""
    count("samples", samples)
    within("samples", samples, "population_size", population.size)
    some_probability("unit_sensitivity", unit_sensitivity)
    missed = CALCULATIONS[one_of("calculation", calculation, list(CALCULATIONS))](samples, population, unit_sensitivity)
    return min(max(1.0 - missed, 0.0), 1.0)


def _missed_exactly(samples: int, population: FinitePopulation, unit_sensitivity: float) -> float:
    chances = contaminated_in_sample(population.size, population.contaminated, samples)
    return float(chances @ np.power(1.0 - unit_sensitivity, np.arange(chances.size)))


def _missed_about(samples: int, population: FinitePopulation, unit_sensitivity: float) -> float:
    # Contaminated units in a sample without replacement repel each other, so that independence overstates the misses.
    tested = samples * unit_sensitivity / population.size
    return 0.0 if tested >= 1.0 else float(np.exp(population.contaminated * log1p(-tested)))


CALCULATIONS: Mapping[str, Callable[[int, FinitePopulation, float], float]] = {
    "exact": _missed_exactly,
    "approximate": _missed_about,
}
"""The chance that nothing is detected, by the word for how it is computed."""
