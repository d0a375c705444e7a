"""Samples of a large population: closed form, cut-points, and a search that misses nothing."""

import pytest
from builders.brute_force import binomial_above, first_that_reaches
from builders.golden import golden
from hypothesis import assume, given
from hypothesis import strategies as st

from swabwright.detection.statistics.aim import Aim, OutOfReach
from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.large import large_sample_size, large_sensitivity
from swabwright.detection.statistics.performance import Performance

ROWS = golden("statistics", "large_population")["rows"]
SHARES = st.floats(0.02, 0.9)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: str(row["samples"]))
def test_samples_for_95_in_100_are_those_of_the_closed_form(row):
    found = large_sample_size(Aim(0.95), row["design_prevalence"], Performance(row["unit_sensitivity"]))
    assert found.value == row["samples"]


@given(SHARES, st.floats(0.1, 1.0), st.integers(1, 200))
def test_nothing_is_detected_when_every_sample_misses(prevalence, sensitivity, samples):
    value = large_sensitivity(samples, prevalence, Performance(sensitivity)).value
    assert value == pytest.approx(1 - (1 - prevalence * sensitivity) ** samples, abs=1e-12)


@given(SHARES, st.floats(0.1, 1.0), st.floats(0.3, 0.99))
def test_one_sample_less_would_not_reach_the_aim(prevalence, sensitivity, aim):
    found = large_sample_size(Aim(aim), prevalence, Performance(sensitivity))
    fewer = 1 - (1 - prevalence * sensitivity) ** (found.value - 1)
    assert found.system_sensitivity >= aim - 1e-12
    assert fewer < aim


@given(st.integers(1, 12), st.floats(0.05, 0.6))
def test_an_aim_that_is_met_exactly_is_not_overshot(samples, share):
    aim = 1 - (1 - share) ** samples
    assume(0 < aim < 1)
    assert large_sample_size(Aim(aim), share, Performance()).value == samples


@given(SHARES, st.floats(0.5, 1.0), st.floats(0.6, 0.99), st.integers(0, 8), st.integers(9, 60))
def test_a_cut_point_is_a_binomial_tail(prevalence, sensitivity, specificity, cut_point, samples):
    test = Performance(sensitivity, specificity)
    apparent = prevalence * sensitivity + (1 - prevalence) * (1 - specificity)
    value = large_sensitivity(samples, prevalence, test, cut_point).value
    assert value == pytest.approx(binomial_above(cut_point, samples, apparent), abs=1e-9)


def reach_of(prevalence, test):
    apparent = prevalence * test.unit_sensitivity + (1 - prevalence) * test.false_positive

    def reach(samples, cut_point):
        false_alarm = binomial_above(cut_point, samples, test.false_positive)
        return binomial_above(cut_point, samples, apparent), 1 - false_alarm

    return reach


@given(
    st.floats(0.1, 0.6),
    st.floats(0.7, 1.0),
    st.floats(0.8, 0.99),
    st.floats(0.5, 0.9),
    st.sampled_from([None, 0, 1, 3]),
)
def test_the_search_finds_the_first_number_that_any_cut_point_allows(prevalence, se, sp, wanted, cut_point):
    aim, test = Aim(wanted, 0.9, cut_point, 60), Performance(se, sp)
    first = first_that_reaches(aim, reach_of(prevalence, test), range(1, 61))
    try:
        found = large_sample_size(aim, prevalence, test).value
    except OutOfReach:
        found = None
    # A fixed cut-point is searched without end; only what lies within the looked-at sizes can be compared.
    assert found == first or (first is None and found > 60)


def test_more_samples_can_show_it_less_often_when_the_cut_point_has_to_rise():
    test = Performance(0.9, 0.95)
    # At a specificity of 0.9, two samples allow a cut-point of 0 (0.95 squared), three need 1 (0.95 cubed is 0.857).
    two, three = (large_sensitivity(samples, 0.2, test, cut_point).value for samples, cut_point in ((2, 0), (3, 1)))
    assert three < two
    assert large_sample_size(Aim(two, 0.9), 0.2, test).value == 2


def test_an_aim_out_of_reach_tells_the_most_there_is():
    with pytest.raises(OutOfReach, match=r"no number of samples up to 20 reaches 99 in 100; the most is"):
        large_sample_size(Aim(0.99, 0.99, None, 20), 0.02, Performance(0.8, 0.9))


def test_a_cut_point_that_loses_the_specificity_is_told():
    with pytest.raises(OutOfReach, match=r"cut_point: with 0, the .* samples that the sensitivity needs keep"):
        large_sample_size(Aim(0.95, 0.95, 0), 0.05, Performance(0.8, 0.99))


def test_a_whole_population_contaminated_and_a_perfect_test_need_one_sample():
    assert large_sample_size(Aim(0.999), 1.0, Performance()).value == 1


def test_the_sentence_names_false_alarms_only_where_there_are_any():
    with_them = large_sensitivity(60, 0.05, Performance(0.8, 0.99), 2).sentence
    without = large_sensitivity(60, 0.05, Performance(0.8)).sentence
    assert "if none is, they give so many all the same in" in with_them
    assert without.endswith("under these assumptions.")


@pytest.mark.parametrize(
    ("call", "names"),
    [
        (lambda: large_sensitivity(0, 0.1, Performance()), "samples: 0"),
        (lambda: large_sensitivity(5, 0.0, Performance()), "design_prevalence: 0 must be above 0"),
        (lambda: large_sensitivity(5, 1.2, Performance()), "design_prevalence: 1.2 is not a share"),
        (lambda: large_sensitivity(5, 0.1, Performance(), 6), "cut_point: 6 is more than the 5 of samples"),
        (lambda: Performance(1.1), "unit_sensitivity: 1.1"),
        (lambda: Performance(0.9, -0.1), "unit_specificity: -0.1"),
        (lambda: Performance(0.4, 0.5), "unit_sensitivity: with unit_specificity it sums to 1 or less"),
        (lambda: Aim(1.0), "system_sensitivity: 1 must lie above 0 and below 1"),
        (lambda: Aim(0.9, 2.0), "system_specificity: 2"),
        (lambda: Aim(0.9, cut_point=-1), "cut_point: -1"),
        (lambda: Aim(0.9, largest_sample=0), "largest_sample: 0"),
    ],
)
def test_a_wrong_argument_is_named(call, names):
    with pytest.raises(ArgumentRefused, match=names):
        call()
