"""Risk-based strata: effective probabilities, what samples reach, and how many are needed."""

from math import prod

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.large import large_sensitivity
from swabwright.detection.statistics.performance import Performance
from swabwright.detection.statistics.risk import Stratum, effective_probabilities, risk_sensitivity
from swabwright.detection.statistics.risk_search import risk_sample_size, shared_out

DRAINS, OTHERS = Stratum("drains", 5, 0.1, 0.8), Stratum("others", 1, 0.9, 0.8)
BOTH = (DRAINS, OTHERS)
SHARES = st.lists(st.integers(1, 9), min_size=1, max_size=4).map(lambda parts: [part / sum(parts) for part in parts])


@st.composite
def strata_of(draw):
    shares = draw(SHARES)
    risks = draw(st.lists(st.floats(1, 5), min_size=len(shares), max_size=len(shares)))
    sensitivity = draw(st.floats(0.3, 1.0))
    return [
        Stratum(f"s{n}", risk, share, sensitivity) for n, (risk, share) in enumerate(zip(risks, shares, strict=True))
    ]


@given(strata_of(), st.floats(0.001, 0.1))
def test_effective_probabilities_make_the_design_prevalence_of_the_whole(strata, prevalence):
    found = effective_probabilities(strata, prevalence)
    whole = sum(one.population_proportion * p for one, p in zip(strata, found, strict=True))
    assert whole == pytest.approx(prevalence)


@given(strata_of(), st.floats(0.001, 0.1))
def test_effective_probabilities_stand_to_each_other_as_the_relative_risks(strata, prevalence):
    found = effective_probabilities(strata, prevalence)
    assert found[-1] * strata[0].relative_risk == pytest.approx(found[0] * strata[-1].relative_risk)


def test_drains_five_times_as_likely_by_hand():
    # Mean risk 5 x 0.1 + 1 x 0.9 = 1.4; at 2.8 in 100 the drains carry 10 in 100 and the others 2 in 100.
    assert effective_probabilities(BOTH, 0.028) == pytest.approx((0.1, 0.02))


def test_what_samples_of_two_strata_reach_by_hand():
    expected = 1 - (1 - 0.1 * 0.8) ** 12 * (1 - 0.02 * 0.8) ** 5
    assert risk_sensitivity(BOTH, [12, 5], 0.028, finite=False).value == pytest.approx(expected)


@given(st.integers(1, 60), st.floats(0.01, 0.3))
def test_equal_risks_are_a_large_population(samples, prevalence):
    strata = [Stratum("a", 2, 0.3), Stratum("b", 2, 0.7)]
    plain = large_sensitivity(samples + 4, prevalence, Performance()).value
    assert risk_sensitivity(strata, [samples, 4], prevalence, finite=False).value == pytest.approx(plain)


def test_a_small_stratum_by_hand():
    strata = [Stratum("drains", 5, 0.1, 0.8, 20), Stratum("others", 1, 0.9, 0.8, 180)]
    expected = 1 - (1 - 10 * 0.8 / 20) ** (0.1 * 20) * (1 - 18 * 0.8 / 180) ** (0.02 * 180)
    assert risk_sensitivity(strata, [10, 18], 0.028, finite=True).value == pytest.approx(expected)


def test_samples_where_the_risk_is_show_it_more_often():
    there = risk_sensitivity(BOTH, [20, 0], 0.02, finite=False).value
    elsewhere = risk_sensitivity(BOTH, [0, 20], 0.02, finite=False).value
    assert there > elsewhere


@given(strata_of(), st.floats(0.01, 0.1), st.floats(0.3, 0.95), st.data())
def test_the_search_finds_the_first_number_that_reaches_the_aim(strata, prevalence, wanted, data):
    parts = data.draw(st.lists(st.integers(1, 9), min_size=len(strata), max_size=len(strata)))
    proportions = [part / sum(parts) for part in parts]
    chances = [
        p * one.unit_sensitivity for p, one in zip(effective_probabilities(strata, prevalence), strata, strict=True)
    ]

    def reached(total):
        return 1 - prod((1 - q) ** n for q, n in zip(chances, shared_out(total, proportions), strict=True))

    first = next(total for total in range(1, 100_000) if reached(total) >= wanted - 1e-12)
    assert risk_sample_size(wanted, strata, proportions, prevalence).value == first


@given(st.integers(0, 500), SHARES)
def test_sharing_out_gives_every_sample_and_moves_no_part_by_a_whole_one(total, shares):
    parts = shared_out(total, shares)
    assert sum(parts) == total
    assert all(abs(part - total * share) < 1 for part, share in zip(parts, shares, strict=True))


def test_a_stratum_that_is_wholly_contaminated_needs_one_perfect_sample():
    strata = [Stratum("drain", 9, 0.1), Stratum("rest", 0.000001, 0.9)]
    assert risk_sample_size(0.95, strata, [1.0, 0.0], 0.0999).value <= 2


@pytest.mark.parametrize(
    ("call", "names"),
    [
        (lambda: effective_probabilities([], 0.1), "strata: give at least one"),
        (lambda: effective_probabilities([DRAINS], 0.1), "the shares of the strata sum to 0.1, not to 1"),
        (lambda: effective_probabilities(BOTH, 0.4), "drains: relative_risk: its units would be contaminated with"),
        (lambda: Stratum("drains", 0, 0.1), "drains: relative_risk: 0 is not a finite number above 0"),
        (lambda: Stratum("drains", 1, 1.2), "drains: population_proportion: 1.2"),
        (lambda: Stratum("drains", 1, 0.1, 0.0), "drains: unit_sensitivity: 0 must be above 0"),
        (lambda: risk_sensitivity(BOTH, [3], 0.02, finite=False), "samples: 1 number for 2 strata"),
        (lambda: risk_sensitivity(BOTH, [3, 3], 0.02, finite=True), "drains: population_size: the finite calculation"),
        (
            lambda: risk_sample_size(0.9, BOTH, [0.5], 0.02),
            "surveillance_proportions: 1 share for 2 strata; give one for each",
        ),
        (lambda: risk_sample_size(0.9, BOTH, [0.5, 0.4], 0.02), "surveillance_proportions: they sum to 0.9"),
    ],
)
def test_a_wrong_argument_is_named(call, names):
    with pytest.raises(ArgumentRefused, match=names):
        call()


def test_more_samples_than_units_are_refused():
    strata = [Stratum("drains", 5, 0.1, 0.8, 20), Stratum("others", 1, 0.9, 0.8, 180)]
    with pytest.raises(ArgumentRefused, match="drains: samples: 21 is more than the 20 of drains: population_size"):
        risk_sensitivity(strata, [21, 3], 0.02, finite=True)


def test_a_size_that_belies_its_share_is_refused():
    strata = [Stratum("drains", 5, 0.1, 0.8, 90), Stratum("others", 1, 0.9, 0.8, 10)]
    with pytest.raises(ArgumentRefused, match=r"stated 0\.1, but its size makes it 0\.9 of all units"):
        effective_probabilities(strata, 0.02)
