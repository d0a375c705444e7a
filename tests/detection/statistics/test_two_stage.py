"""Groups, then units in each."""

from itertools import combinations
from math import comb, prod

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.detection.statistics.aim import OutOfReach
from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.finite import FinitePopulation
from swabwright.detection.statistics.two_stage import (
    TwoStage,
    cheapest_two_stage,
    two_stage_sample_size,
    two_stage_sensitivity,
)
from swabwright.detection.statistics.without_replacement import detection_chance

SURVEY = TwoStage(FinitePopulation(20, 2), FinitePopulation(40, 4), 0.8, "exact")
CHANCES = st.lists(st.floats(0.0, 1.0), min_size=1, max_size=5)


def counted(sensitivities, groups, contaminated):
    """The chance by every choice of contaminated groups; the first groups are the ones sampled."""
    missed = [1 - one for one in sensitivities] + [1.0] * (groups - len(sensitivities))
    choices = combinations(range(groups), contaminated)
    return 1 - sum(prod(missed[group] for group in chosen) for chosen in choices) / comb(groups, contaminated)


@given(CHANCES, st.integers(0, 4), st.data())
def test_the_exact_chance_is_that_of_counting_which_groups_are_contaminated(sensitivities, more, data):
    groups = len(sensitivities) + more
    contaminated = data.draw(st.integers(1, groups))
    value = two_stage_sensitivity(sensitivities, contaminated / groups, groups).value
    assert value == pytest.approx(counted(sensitivities, groups, contaminated), abs=1e-12)


@given(CHANCES, st.floats(0.01, 1.0))
def test_many_groups_miss_independently(sensitivities, prevalence):
    missed = prod(1 - prevalence * one for one in sensitivities)
    assert two_stage_sensitivity(sensitivities, prevalence).value == pytest.approx(1 - missed)


@given(CHANCES)
def test_many_groups_and_a_million_groups_agree(sensitivities):
    many, million = two_stage_sensitivity(sensitivities, 0.2), two_stage_sensitivity(sensitivities, 0.2, 1_000_000)
    assert many.value == pytest.approx(million.value, abs=1e-5)


@pytest.mark.parametrize("calculation", ["exact", "approximate"])
def test_the_sizes_found_reach_both_aims_and_smaller_ones_do_not(calculation):
    survey = TwoStage(SURVEY.groups, SURVEY.units, 0.8, calculation)
    found = two_stage_sample_size(0.9, 0.85, survey)
    fewer_units = detection_chance(found.units_per_group - 1, survey.units, 0.8, calculation)
    fewer_groups = detection_chance(found.groups - 1, survey.groups, found.group_sensitivity, calculation)
    assert found.group_sensitivity >= 0.85 > fewer_units
    assert found.system_sensitivity >= 0.9 > fewer_groups


def test_groups_all_alike_give_the_same_chance_one_by_one():
    found = two_stage_sample_size(0.9, 0.9, SURVEY)
    one_by_one = two_stage_sensitivity([found.group_sensitivity] * found.groups, 0.1, 20).value
    assert one_by_one == pytest.approx(found.system_sensitivity)


def test_the_value_is_all_samples_together():
    found = two_stage_sample_size(0.9, 0.9, SURVEY)
    assert found.value == found.groups * found.units_per_group
    assert found.sentence.startswith(f"{found.groups} groups with {found.units_per_group} samples in each")


@pytest.mark.parametrize(("per_group", "per_unit"), [(1.0, 10.0), (5.0, 4.0), (120.0, 1.0)])
def test_no_other_number_of_units_costs_less_time(per_group, per_unit):
    found = cheapest_two_stage(0.9, SURVEY, minutes_per_group=per_group, minutes_per_unit=per_unit)
    others = []
    for units in range(1, 41):
        chance = detection_chance(units, SURVEY.units, 0.8, "exact")
        groups = next((g for g in range(1, 21) if detection_chance(g, SURVEY.groups, chance, "exact") >= 0.9), None)
        others += [] if groups is None else [groups * per_group + groups * units * per_unit]
    assert found.groups * per_group + found.value * per_unit == pytest.approx(min(others))


def test_dear_groups_are_sampled_more_deeply():
    dear = cheapest_two_stage(0.9, SURVEY, minutes_per_group=120, minutes_per_unit=1)
    cheap = cheapest_two_stage(0.9, SURVEY, minutes_per_group=1, minutes_per_unit=10)
    assert dear.groups < cheap.groups
    assert dear.units_per_group > cheap.units_per_group


def test_an_aim_that_all_units_of_all_groups_miss_is_out_of_reach():
    survey = TwoStage(FinitePopulation(5, 1), FinitePopulation(5, 1), 0.5, "exact")
    with pytest.raises(OutOfReach, match="all 5 units tested once reach 50 in 100"):
        cheapest_two_stage(0.9, survey, minutes_per_group=1, minutes_per_unit=1)


@pytest.mark.parametrize(
    ("call", "names"),
    [
        (lambda: two_stage_sensitivity([], 0.1), "group_sensitivities: give at least one"),
        (lambda: two_stage_sensitivity([1.2], 0.1), "group_sensitivities: 1.2"),
        (lambda: two_stage_sensitivity([0.5], 0.0), "group_design_prevalence: 0"),
        (lambda: two_stage_sensitivity([0.5] * 3, 0.5, 2), "group_sensitivities: 3 is more than the 2 of groups"),
        (lambda: two_stage_sample_size(0.9, 1.0, SURVEY), "group_sensitivity: 1 must lie above 0 and below 1"),
        (lambda: cheapest_two_stage(0.9, SURVEY, minutes_per_group=0, minutes_per_unit=1), "minutes_per_group: 0"),
    ],
)
def test_a_wrong_argument_is_named(call, names):
    with pytest.raises(ArgumentRefused, match=names):
        call()
