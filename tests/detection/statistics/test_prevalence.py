"""Prevalence from an imperfect test: Rogan and Gladen's estimate, and the posterior."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.stats import beta, binom

from swabwright.detection.statistics.beta_nodes import beta_nodes
from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.intervals import jeffreys, share_interval
from swabwright.detection.statistics.performance import Performance, Validation
from swabwright.detection.statistics.posterior import BetaPrior, posterior_known_test, posterior_uncertain_test
from swabwright.detection.statistics.prevalence import rogan_gladen, rogan_gladen_uncertain, true_share

TESTS = st.builds(Performance, st.floats(0.6, 1.0), st.floats(0.6, 1.0))


@st.composite
def results(draw, most=300):
    samples = draw(st.integers(1, most))
    return draw(st.integers(0, samples)), samples


@given(TESTS, st.floats(0.0, 1.0))
def test_the_true_share_behind_an_apparent_one_is_the_share_that_makes_it(test, prevalence):
    assert true_share(test.apparent(prevalence), test) == pytest.approx(prevalence, abs=1e-9)


@given(results())
def test_a_perfect_test_reports_the_truth(case):
    found, plain = rogan_gladen(*case, Performance(), 0.95, "wilson"), share_interval(*case, 0.95, "wilson")
    assert found.value == pytest.approx(case[0] / case[1])
    assert (found.interval.low, found.interval.high) == pytest.approx((plain.low, plain.high))


def test_the_estimate_by_hand():
    # Apparent 0.2; (0.2 + 0.9 - 1) / (0.8 + 0.9 - 1) is one in seven.
    assert rogan_gladen(20, 100, Performance(0.8, 0.9), 0.95, "wilson").value == pytest.approx(1 / 7)


def test_fewer_positives_than_false_alarms_alone_would_give_are_no_prevalence_at_all():
    found = rogan_gladen(1, 100, Performance(0.8, 0.9), 0.95, "wilson")
    assert (found.value, found.interval.low) == (0.0, 0.0)


def test_the_uncertain_interval_by_hand():
    found = rogan_gladen_uncertain(20, 100, Validation(50, 40, 100, 90), 0.95)
    variance = 0.2 * 0.8 / 100 + (1 / 7) ** 2 * 0.8 * 0.2 / 50 + (6 / 7) ** 2 * 0.9 * 0.1 / 100
    assert found.interval.high - found.value == pytest.approx(1.959964 * variance**0.5 / 0.7, rel=1e-6)


def test_an_endless_validation_study_is_a_known_test():
    study = Validation(10**9, 8 * 10**8, 10**9, 9 * 10**8)
    spread = (0.2 * 0.8 / 100) ** 0.5 / 0.7
    found = rogan_gladen_uncertain(20, 100, study, 0.95)
    assert found.interval.high - found.value == pytest.approx(1.959964 * spread, rel=1e-6)


@settings(max_examples=30)
@given(results(), st.floats(0.3, 3.0), st.floats(0.3, 3.0))
def test_with_a_perfect_test_the_posterior_is_a_beta(case, a, b):
    detected, samples = case
    found = posterior_known_test(detected, samples, Performance(), BetaPrior(a, b), 0.9)
    exact = beta(a + detected, b + samples - detected)
    assert found.value == pytest.approx(exact.mean(), abs=1e-4)
    assert exact.cdf([found.interval.low, found.median, found.interval.high]) == pytest.approx(
        [0.05, 0.5, 0.95], abs=2e-3
    )


def test_data_that_contradict_a_strong_prior_are_still_a_beta():
    found = posterior_known_test(90, 100, Performance(), BetaPrior(1, 300), 0.95)
    assert found.value == pytest.approx(91 / 401, abs=1e-6)


@pytest.mark.parametrize(("a", "b"), [(1e9, 2.0), (2.0, 1e9), (1e5, 1e5)])
def test_a_prior_of_almost_one_share_hardly_moves(a, b):
    found = posterior_known_test(3, 25, Performance(0.8, 0.9), BetaPrior(a, b), 0.95)
    assert found.value == pytest.approx(a / (a + b), abs=1e-3)


def test_a_prior_piled_up_at_nothing_keeps_its_weight():
    found = posterior_known_test(0, 30, Performance(), BetaPrior(0.1, 1), 0.95)
    assert found.median == pytest.approx(beta(0.1, 31).ppf(0.5), abs=1e-6)


def test_a_jeffreys_prior_gives_the_jeffreys_interval():
    found = posterior_known_test(4, 90, Performance(), BetaPrior(0.5, 0.5), 0.95).interval
    assert (found.low, found.high) == pytest.approx(jeffreys(4, 90, 0.95), abs=1e-5)


@settings(max_examples=15)
@given(results(80), TESTS)
def test_with_an_imperfect_test_the_mean_is_that_of_integrating(case, test):
    def weight(prevalence):
        return binom.pmf(*case, test.apparent(prevalence))

    most = true_share(case[0] / case[1], test)
    whole, part = (quad(f, 0, 1, points=[most], limit=200)[0] for f in (weight, lambda p: p * weight(p)))
    assert posterior_known_test(*case, test, BetaPrior(), 0.95).value == pytest.approx(part / whole, abs=1e-5)


def test_an_uncertain_test_gives_the_mean_of_integrating_over_it_too():
    grid = (np.arange(200) + 0.5) / 200
    se, sp, p = np.meshgrid(grid[100:], grid[100:], grid[:120], indexing="ij", sparse=True)
    weight = beta.pdf(se, 41, 11) * beta.pdf(sp, 91, 11) * binom.pmf(20, 100, p * se + (1 - p) * (1 - sp))
    found = posterior_uncertain_test(20, 100, Validation(50, 40, 100, 90), BetaPrior(), 0.95)
    assert found.value == pytest.approx(float((weight * p).sum() / weight.sum()), abs=1e-4)


def test_an_endless_study_gives_the_posterior_of_a_known_test():
    study = Validation(10**6, 8 * 10**5, 10**6, 9 * 10**5)
    uncertain = posterior_uncertain_test(20, 100, study, BetaPrior(), 0.95)
    known = posterior_known_test(20, 100, Performance(0.8, 0.9), BetaPrior(), 0.95)
    assert uncertain.value == pytest.approx(known.value, abs=1e-4)


def test_a_smaller_study_leaves_a_wider_interval():
    def width(times):
        study = Validation(10 * times, 8 * times, 20 * times, 19 * times)
        interval = posterior_uncertain_test(20, 100, study, BetaPrior(), 0.95).interval
        return interval.high - interval.low

    assert width(1) > width(4) > width(50)


def test_no_samples_leave_the_prior():
    found = posterior_known_test(0, 0, Performance(0.8, 0.9), BetaPrior(2, 6), 0.9)
    assert found.value == pytest.approx(0.25, abs=1e-5)
    assert found.below(0.2) == pytest.approx(beta(2, 6).cdf(0.2), abs=1e-5)


def test_the_chance_of_a_prevalence_below_a_limit_is_its_beta_share():
    found = posterior_known_test(2, 60, Performance(), BetaPrior(), 0.95)
    assert found.below(0.05) == pytest.approx(beta(3, 59).cdf(0.05), abs=1e-4)
    assert (found.below(0.0), found.below(1.0)) == (0.0, 1.0)


@given(st.integers(0, 5000), st.integers(0, 5000))
def test_nodes_of_a_beta_distribution_have_its_mean_and_variance(right, wrong):
    places, weights = beta_nodes(right + 1.0, wrong + 1.0, 24)
    exact = beta(right + 1, wrong + 1)
    mean = float(weights @ places)
    assert mean == pytest.approx(exact.mean(), rel=1e-9)
    assert float(weights @ (places - mean) ** 2) == pytest.approx(exact.var(), rel=1e-6)


@pytest.mark.parametrize(
    ("call", "names"),
    [
        (lambda: rogan_gladen(5, 4, Performance(), 0.95, "wilson"), "detected: 5 is more than the 4 of samples"),
        (lambda: rogan_gladen_uncertain(5, 4, Validation(9, 8, 9, 8), 0.95), "detected: 5 is more than the 4"),
        (lambda: Validation(0, 0, 9, 8), "contaminated: 0"),
        (lambda: Validation(9, 10, 9, 8), "detected: 10 is more than the 9 of contaminated"),
        (lambda: Validation(9, 8, 9, 10), "not_detected: 10 is more than the 9 of uncontaminated"),
        (lambda: BetaPrior(0, 1), "prior a: 0"),
        (lambda: BetaPrior(1, 1e12), r"prior b: 1e\+12 lies outside 1e-06 to 1e\+09"),
        (lambda: posterior_known_test(5, 4, Performance(), BetaPrior(), 0.95), "detected: 5"),
        (lambda: posterior_known_test(1, 4, Performance(), BetaPrior(), 1.0), "level: 1"),
        (lambda: posterior_known_test(1, 4, Performance(), BetaPrior(), 0.9).below(2.0), "prevalence: 2"),
    ],
)
def test_a_wrong_argument_is_named(call, names):
    with pytest.raises(ArgumentRefused, match=names):
        call()
