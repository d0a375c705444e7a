"""Independent samples of a large population, alike in their chance of a positive: single units or pools."""

from dataclasses import dataclass
from math import ceil, log1p

import numpy as np
from scipy.stats import binom

from swabwright.detection.statistics.aim import HAIR, Aim, OutOfReach
from swabwright.detection.statistics.answer import per_100
from swabwright.detection.statistics.arrays import Whole

FIRST_STEP = 64


@dataclass(frozen=True)
class Trial:
    """One sample: its chance of a positive with the organism at the design prevalence, and without it."""

    positive_if_present: float
    positive_if_absent: float = 0.0


@dataclass(frozen=True)
class Reached:
    """What a number of samples with a cut-point reaches."""

    samples: int
    cut_point: int
    system_sensitivity: float
    system_specificity: float


def reached(trial: Trial, samples: int, cut_point: int = 0) -> Reached:
    """System sensitivity and specificity of `samples` independent samples.

    Sensitivity is P(X > cut-point), X binomial with the positive share when present; specificity is P(X <= cut-point)
    when absent (Martin, Shoukri and Thorburn, Prev Vet Med 1992;14:33-43).
    """
    sensitivity = float(binom.sf(cut_point, samples, trial.positive_if_present))
    return Reached(samples, cut_point, sensitivity, float(binom.cdf(cut_point, samples, trial.positive_if_absent)))


def smallest(trial: Trial, aim: Aim) -> Reached:
    """The smallest number of samples that reaches the aim, with its cut-point; OutOfReach when none does.

    With a free cut-point and false positives the sensitivity falls each time the cut-point has to rise, so that every
    number of samples is looked at; otherwise it only rises and a formula or a bisection finds it.
    """
    if trial.positive_if_absent > 0.0 and aim.cut_point is None:
        return _looked_through(trial, aim)
    found = _rising(trial, aim, aim.cut_point or 0)
    if not aim.met(found.system_sensitivity, found.system_specificity):
        raise OutOfReach(_specificity_lost(found, aim))
    return found


def _rising(trial: Trial, aim: Aim, cut_point: int) -> Reached:
    if cut_point == 0:
        return _closed_form(trial, aim)
    # As many samples as the cut-point can never exceed it, which makes a lower end that fails.
    low, high = cut_point, cut_point + FIRST_STEP
    while not aim_met_at(trial, high, cut_point, aim):
        low, high = high, 2 * high
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if aim_met_at(trial, middle, cut_point, aim) else (middle, high)
    return reached(trial, high, cut_point)


def aim_met_at(trial: Trial, samples: int, cut_point: int, aim: Aim) -> bool:
    """True when `samples` reach the wanted sensitivity, whatever their specificity."""
    return reached(trial, samples, cut_point).system_sensitivity >= aim.system_sensitivity - HAIR


def _closed_form(trial: Trial, aim: Aim) -> Reached:
    if trial.positive_if_present == 1.0:
        return reached(trial, 1)
    samples = max(1, ceil(log1p(-aim.system_sensitivity) / log1p(-trial.positive_if_present)))
    # The quotient of two logarithms can land a hair above the whole number that it is.
    return reached(trial, samples - 1 if samples > 1 and aim_met_at(trial, samples - 1, 0, aim) else samples)


def _looked_through(trial: Trial, aim: Aim) -> Reached:
    # For each number the smallest cut-point allowed is the best one: a larger one only loses sensitivity.
    samples = np.arange(1, aim.largest_sample + 1)
    cut_points = free_cut_points(aim, samples, trial.positive_if_absent)
    sensitivity = binom.sf(cut_points, samples, trial.positive_if_present)
    hits = np.flatnonzero(sensitivity >= aim.system_sensitivity - HAIR)
    best = int(hits[0]) if hits.size else int(np.argmax(sensitivity))
    found = reached(trial, int(samples[best]), int(cut_points[best]))
    if not hits.size:
        raise OutOfReach(none_reaches(aim, found, aim.largest_sample))
    return found


def free_cut_points(aim: Aim, samples: Whole, false_positive: float) -> Whole:
    """For each number of samples the smallest cut-point that keeps the specificity wanted."""
    least = np.asarray(binom.ppf(max(aim.system_specificity - HAIR, 0.0), samples, false_positive))
    cut_points: Whole = np.clip(least, 0, None).astype(np.int64)
    return cut_points


def none_reaches(aim: Aim, best: Reached, most: int) -> str:
    """The sentence when no number of samples reaches the aim: the best there is, and what helps."""
    specificity = f" at a specificity of {per_100(best.system_specificity)}" if best.system_specificity < 1.0 else ""
    return (
        f"system_sensitivity: no number of samples up to {most} reaches "
        f"{per_100(aim.system_sensitivity)}; the most is {per_100(best.system_sensitivity)}{specificity}, with "
        f"{best.samples} samples and a cut-point of {best.cut_point}. "
        "A larger largest_sample, a better test or a lower aim would help"
    )


def _specificity_lost(found: Reached, aim: Aim) -> str:
    return (
        f"cut_point: with {found.cut_point}, the {found.samples} samples that the sensitivity needs keep a specificity "
        f"of only {per_100(found.system_specificity)} instead of {per_100(aim.system_specificity)}; "
        "raise cut_point, or leave it out so that the search chooses it"
    )
