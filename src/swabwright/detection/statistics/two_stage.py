"""Two stages: groups (rooms, lines, lots) are chosen, then units (sites, packs) in each."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import prod

import numpy as np

from swabwright.detection.statistics.aim import OutOfReach
from swabwright.detection.statistics.answer import Answer, per_100
from swabwright.detection.statistics.checks import inner_probability, positive, probability, some, some_probability
from swabwright.detection.statistics.checks import within as at_most
from swabwright.detection.statistics.finite import FinitePopulation
from swabwright.detection.statistics.hypergeometric import contaminated_in_sample
from swabwright.detection.statistics.without_replacement import detection_chance, finite_sample_size


@dataclass(frozen=True)
class TwoStage:
    """What is looked for.

    groups: all groups, so many of them contaminated. units: of one contaminated group, so many of them contaminated.
    unit_sensitivity: chance that the sample of a contaminated unit is reported as detected. calculation: "exact" or
    "approximate", as of `finite_sensitivity`, for both stages.
    """

    groups: FinitePopulation
    units: FinitePopulation
    unit_sensitivity: float
    calculation: str


@dataclass(frozen=True)
class TwoStageSize:
    """How many groups, how many units in each, and what that reaches."""

    value: int
    """All samples together."""
    groups: int
    units_per_group: int
    group_sensitivity: float
    system_sensitivity: float
    sentence: str


def two_stage_sensitivity(
    group_sensitivities: Sequence[float], group_design_prevalence: float, groups: int | None = None
) -> Answer:
    """The chance that the sampled groups show it, each with a chance of its own when it is contaminated.

    group_sensitivities: one for each sampled group, 0 to 1. group_design_prevalence: share of groups contaminated.
    groups: number of all groups, for the exact calculation without replacement (contaminated groups rounded up);
    None takes groups as many, 1 - product of (1 - P SeH). Errors: ArgumentRefused by name.
    Source: Cameron and Baldock, Prev Vet Med 1998;34:19-30; Martin, Cameron and Greiner, Prev Vet Med 2007;79:71-97.
    """
    some("group_sensitivities", group_sensitivities)
    some_probability("group_design_prevalence", group_design_prevalence)
    missed = [1.0 - probability("group_sensitivities", one) for one in group_sensitivities]
    if groups is None:
        value = 1.0 - prod(1.0 - group_design_prevalence * (1.0 - one) for one in missed)
    else:
        at_most("group_sensitivities", len(missed), "groups", groups)
        value = 1.0 - _missed_exactly(missed, FinitePopulation.at(groups, group_design_prevalence))
    return Answer(
        value,
        f"{len(missed)} groups show it with a chance of {per_100(value)}, if {per_100(group_design_prevalence)} groups "
        "or more are contaminated, under these assumptions.",
    )


def _missed_exactly(missed: Sequence[float], groups: FinitePopulation) -> float:
    """Mean over which sampled groups are contaminated: elementary symmetric means of what each misses."""
    means = np.zeros(len(missed) + 1)
    means[0] = 1.0
    # means[k] is the mean product over all k-subsets of the groups seen so far; every term is positive.
    for seen, one in enumerate(missed):
        k = np.arange(1, seen + 2)
        means[1 : seen + 2] = ((seen + 1 - k) * means[1 : seen + 2] + k * one * means[: seen + 1]) / (seen + 1)
    chances = contaminated_in_sample(groups.size, groups.contaminated, len(missed))
    return float(chances @ means[: chances.size])


def two_stage_sample_size(system_sensitivity: float, group_sensitivity: float, survey: TwoStage) -> TwoStageSize:
    """Units per group for the wanted group sensitivity, then groups for the wanted system sensitivity.

    Both wanted chances lie above 0 and below 1. Errors: ArgumentRefused; OutOfReach when testing everything once does
    not reach them. Source: Cameron and Baldock, Prev Vet Med 1998;34:19-30.
    """
    inner_probability("group_sensitivity", group_sensitivity)
    units = finite_sample_size(group_sensitivity, survey.units, survey.unit_sensitivity, survey.calculation)
    return _with_units(system_sensitivity, units.value, survey)


def cheapest_two_stage(
    system_sensitivity: float, survey: TwoStage, *, minutes_per_group: float, minutes_per_unit: float
) -> TwoStageSize:
    """The two-stage sample of least working time that reaches the system sensitivity; every number of units is tried.

    minutes_per_group: to get to a group and set up. minutes_per_unit: for one sample. Errors: ArgumentRefused;
    OutOfReach when no number of units in every group reaches it.
    """
    positive("minutes_per_group", minutes_per_group)
    positive("minutes_per_unit", minutes_per_unit)
    found = []
    for units in range(1, survey.units.size + 1):
        try:
            found.append(_with_units(system_sensitivity, units, survey))
        except OutOfReach:
            continue
    if not found:
        # Asked once more for the most that can be reached, whose refusal says how much that is.
        _with_units(system_sensitivity, survey.units.size, survey)
    return min(found, key=lambda one: one.groups * minutes_per_group + one.value * minutes_per_unit)


def _with_units(system_sensitivity: float, units: int, survey: TwoStage) -> TwoStageSize:
    group_sensitivity = detection_chance(units, survey.units, survey.unit_sensitivity, survey.calculation)
    groups = finite_sample_size(system_sensitivity, survey.groups, group_sensitivity, survey.calculation)
    total = groups.value * units
    sentence = (
        f"{groups.value} groups with {units} samples in each, {total} together, show it with a chance of "
        f"{per_100(groups.system_sensitivity)}, if {per_100(survey.groups.prevalence)} groups and in them "
        f"{per_100(survey.units.prevalence)} units or more are contaminated, under these assumptions."
    )
    return TwoStageSize(total, groups.value, units, group_sensitivity, groups.system_sensitivity, sentence)
