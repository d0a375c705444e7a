"""Intervals of a share: printed values, coverage and order."""

import pytest
from builders.brute_force import binomial_above
from builders.golden import golden
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta, binomtest

from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.intervals import METHODS, share, share_interval

NEWCOMBE = golden("statistics", "intervals")
JEFFREYS = golden("statistics", "jeffreys")


@st.composite
def counts(draw, most=200):
    samples = draw(st.integers(1, most))
    return draw(st.integers(0, samples)), samples


@pytest.mark.parametrize("row", NEWCOMBE["rows"], ids=lambda row: f"{row['method']}-{row['detected']}")
def test_score_and_exact_limits_are_those_printed(row):
    found = share_interval(row["detected"], row["samples"], 0.95, row["method"])
    assert (found.low, found.high) == pytest.approx((row["low"], row["high"]), abs=NEWCOMBE["tolerance"])


@pytest.mark.parametrize("row", JEFFREYS["rows"], ids=lambda row: str(row["samples"]))
def test_jeffreys_limits_are_those_printed(row):
    found = share_interval(row["detected"], row["samples"], 0.95, "jeffreys")
    assert (found.low, found.high) == pytest.approx((row["low"], row["high"]), abs=JEFFREYS["tolerance"])


@given(counts(), st.sampled_from([0.8, 0.9, 0.95, 0.99]), st.sampled_from(["wilson", "clopper-pearson"]))
def test_score_and_exact_limits_are_those_of_an_independent_library(case, level, method):
    peer = binomtest(*case).proportion_ci(level, method="wilson" if method == "wilson" else "exact")
    found = share_interval(*case, level, method)
    assert (found.low, found.high) == pytest.approx((peer.low, peer.high), abs=1e-9)


@given(counts(), st.sampled_from(list(METHODS)), st.sampled_from([0.5, 0.9, 0.99]))
def test_an_interval_holds_the_share_and_stays_within_0_and_1(case, method, level):
    found = share_interval(*case, level, method)
    assert 0.0 <= found.low <= case[0] / case[1] <= found.high <= 1.0


@given(counts(), st.sampled_from(list(METHODS)))
def test_not_detected_counts_mirror_detected_ones(case, method):
    detected, samples = case
    one, other = (
        share_interval(detected, samples, 0.95, method),
        share_interval(samples - detected, samples, 0.95, method),
    )
    assert (one.low, one.high) == pytest.approx((1 - other.high, 1 - other.low), abs=1e-9)


@given(counts(), st.sampled_from(list(METHODS)))
def test_a_higher_level_gives_a_wider_interval(case, method):
    narrow, wide = share_interval(*case, 0.8, method), share_interval(*case, 0.95, method)
    assert wide.low <= narrow.low
    assert narrow.high <= wide.high


@given(counts(most=60))
def test_the_upper_exact_limit_leaves_just_its_tail(case):
    detected, samples = case
    high = share_interval(detected, samples, 0.9, "clopper-pearson").high
    tail = 1 - binomial_above(detected, samples, high) if detected < samples else 0.05
    assert tail == pytest.approx(0.05, abs=1e-9)


@given(counts())
def test_the_wider_plain_interval_contains_the_score_interval(case):
    score, plain = share_interval(*case, 0.95, "wilson"), share_interval(*case, 0.95, "agresti-coull")
    assert plain.low <= score.low + 1e-12
    assert score.high <= plain.high + 1e-12


@given(counts())
def test_jeffreys_limits_are_beta_quantiles_inside(case):
    detected, samples = case
    found = share_interval(detected, samples, 0.9, "jeffreys")
    low, high = beta.ppf([0.05, 0.95], detected + 0.5, samples - detected + 0.5)
    assert found.low == pytest.approx(low if detected else 0.0, abs=1e-9)
    assert found.high == pytest.approx(high if detected < samples else 1.0, abs=1e-9)


def test_the_sentence_tells_count_share_and_limits():
    said = share(3, 60, 0.95, "wilson").sentence
    assert said.startswith(
        "Detected in 3 of 60 samples, 5 in 100; the share behind them lies between 1.7 in 100 and 13.7"
    )


@pytest.mark.parametrize(
    ("arguments", "names"),
    [
        ((61, 60, 0.95, "wilson"), "detected: 61 is more than the 60 of samples"),
        ((0, 0, 0.95, "wilson"), "samples: 0 is not a whole number of 1 or more"),
        ((-1, 60, 0.95, "wilson"), "detected: -1 is not a whole number"),
        ((1.5, 60, 0.95, "wilson"), "detected: 1.5 is not a whole number"),
        ((3, 60, 95, "wilson"), "level: 95 is not a share from 0 to 1; did you mean 0.95"),
        ((3, 60, 1.0, "wilson"), "level: 1 must lie above 0 and below 1"),
        ((3, 60, float("nan"), "wilson"), "level: nan is not a share"),
        ((3, 60, 0.95, "wald"), "method: 'wald' is not one of: wilson"),
    ],
)
def test_a_wrong_argument_is_named(arguments, names):
    with pytest.raises(ArgumentRefused, match=names):
        share_interval(*arguments)
