"""Samples of a large population, where taking one unit does not change the rest."""

from swabwright.detection.statistics.aim import Aim
from swabwright.detection.statistics.answer import Answer, SampleSize, per_100
from swabwright.detection.statistics.checks import count, some_probability, within
from swabwright.detection.statistics.performance import Performance
from swabwright.detection.statistics.trials import Reached, Trial, reached, smallest


def large_sensitivity(samples: int, design_prevalence: float, test: Performance, cut_point: int = 0) -> Answer:
    """The chance that `samples` units show it, if it is in `design_prevalence` of a large population.

    samples: units tested, 1 or more. design_prevalence: share of units contaminated, above 0 to 1. cut_point: the
    largest number of positives that still counts as not detected. Errors: ArgumentRefused by name.
    Formula: 1 - (1 - P Se)^n at cut-point 0 and perfect specificity, else the binomial tail. Source: MacDiarmid,
    N Z Vet J 1988;36:39-42; Martin, Shoukri and Thorburn, Prev Vet Med 1992;14:33-43.
    """
    count("samples", samples, 1)
    within("cut_point", cut_point, "samples", samples)
    found = reached(_trial(design_prevalence, test), samples, cut_point)
    return Answer(found.system_sensitivity, sensitivity_sentence(found, design_prevalence))


def large_sample_size(aim: Aim, design_prevalence: float, test: Performance) -> SampleSize:
    """The smallest number of units of a large population that reaches the aim.

    design_prevalence: share of units contaminated, above 0 to 1. Errors: ArgumentRefused; OutOfReach when no number up
    to the aim's largest_sample does. Formula: ln(1 - SSe) / ln(1 - P Se), rounded up, at cut-point 0 and perfect
    specificity; else every number is looked at. Source as of `large_sensitivity`.
    """
    return as_sample_size(smallest(_trial(design_prevalence, test), aim), design_prevalence)


def as_sample_size(found: Reached, design_prevalence: float, unit: str = "sample") -> SampleSize:
    """What was found, with its sentence."""
    sentence = sensitivity_sentence(found, design_prevalence, unit)
    return SampleSize(found.samples, found.system_sensitivity, found.system_specificity, found.cut_point, sentence)


def sensitivity_sentence(found: Reached, design_prevalence: float, unit: str = "sample") -> str:
    """The chance of showing it, said with the design prevalence, the cut-point and the false alarms."""
    units = f"{found.samples} {unit}{'' if found.samples == 1 else 's'}"
    above = f"more than {found.cut_point} positives" if found.cut_point else "at least one positive"
    said = (
        f"{units} give {above} with a chance of {per_100(found.system_sensitivity)}, if {per_100(design_prevalence)} "
        "units or more are contaminated, under these assumptions"
    )
    if found.system_specificity < 1.0:
        said += f"; if none is, they give so many all the same in {per_100(1 - found.system_specificity)} cases"
    return f"{said}."


def _trial(design_prevalence: float, test: Performance) -> Trial:
    some_probability("design_prevalence", design_prevalence)
    return Trial(test.apparent(design_prevalence), test.false_positive)
