"""True prevalence from what an imperfect test reports: Rogan and Gladen's estimate."""

from math import sqrt

from scipy.special import ndtri

from swabwright.detection.statistics.answer import Answer, Interval, per_100
from swabwright.detection.statistics.checks import count, inner_probability, within
from swabwright.detection.statistics.intervals import share_interval
from swabwright.detection.statistics.performance import Performance, Validation


def rogan_gladen(detected: int, samples: int, test: Performance, level: float, method: str) -> Answer:
    """The share of units really contaminated, when `detected` of `samples` are and the test is known.

    (AP + Sp - 1) / (Se + Sp - 1), cut off at 0 and 1; the interval is that of the apparent prevalence, by one of the
    four methods, put through the same formula. Source: Rogan and Gladen, Am J Epidemiol 1978;107:71-76.
    Errors: ArgumentRefused by name.
    """
    apparent = share_interval(detected, samples, level, method)
    interval = Interval(true_share(apparent.low, test), true_share(apparent.high, test), level, method)
    value = true_share(detected / samples, test)
    return Answer(value, _sentence(value, interval, detected, samples), interval)


def rogan_gladen_uncertain(detected: int, samples: int, validation: Validation, level: float) -> Answer:
    """The same when sensitivity and specificity are themselves known only from a validation study.

    Normal interval with the variance of all three shares: [AP (1 - AP) / n + P^2 Se (1 - Se) / m1 + (1 - P)^2 Sp (1 -
    Sp) / m2] / (Se + Sp - 1)^2, cut off at 0 and 1. Source: Rogan and Gladen, Am J Epidemiol 1978;107:71-76. A normal
    interval is poor when few are detected; the posterior with uncertain performance is better then.
    """
    count("samples", samples, 1)
    within("detected", detected, "samples", samples)
    inner_probability("level", level)
    test, apparent = validation.observed, detected / samples
    value = true_share(apparent, test)
    se, sp = test.unit_sensitivity, test.unit_specificity
    of_result = apparent * (1 - apparent) / samples
    of_test = value**2 * se * (1 - se) / validation.contaminated
    of_test += (1 - value) ** 2 * sp * (1 - sp) / validation.uncontaminated
    half = float(ndtri((1 + level) / 2)) * sqrt(of_result + of_test) / (se + sp - 1)
    interval = Interval(max(0.0, value - half), min(1.0, value + half), level, "normal, uncertain test")
    return Answer(value, _sentence(value, interval, detected, samples), interval)


def true_share(apparent: float, test: Performance) -> float:
    """The true share behind an apparent one, cut off at 0 and 1."""
    # Fewer positives than false alarms alone would give point below nothing; there is no such prevalence.
    span = test.unit_sensitivity + test.unit_specificity - 1.0
    return min(max((apparent + test.unit_specificity - 1.0) / span, 0.0), 1.0)


def _sentence(value: float, interval: Interval, detected: int, samples: int) -> str:
    return (
        f"Detected in {detected} of {samples} samples; allowing for the test, {per_100(value)} units are contaminated, "
        f"between {per_100(interval.low)} and {per_100(interval.high)} ({interval.method}, level {interval.level:g})."
    )
