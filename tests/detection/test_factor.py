"""Laws and golden figures of all results at one site together."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from swabwright.detection.factor import SiteResults, conditional_exponents, conditional_silent, site_factor
from swabwright.detection.model import DetectionModel, beta_moment

MODEL = DetectionModel(sigma=1.5, unexplained=0.05, background_a=0.3, background_b=9.7, false_positive=0.002)
EXPLAINED = DetectionModel(sigma=1.5, unexplained=0.0, background_a=0.3, background_b=9.7, false_positive=0.0)

loads = st.lists(st.floats(0, 50, width=32), min_size=1, max_size=5)
marks = st.lists(st.booleans(), min_size=5, max_size=5)


def results(cells: list[float], detected: list[bool], false_positive: float = 0.002) -> SiteResults:
    """Results at one site in one row."""
    count = len(cells)
    return SiteResults(
        np.array(cells, np.float32)[:, None],
        np.array(detected[:count], bool),
        np.full(count, false_positive),
    )


def adaptive(cells: list[float], detected: list[bool], model: DetectionModel, fp: float) -> float:
    """The same chance by adaptive quadrature, written out plainly."""

    def weighted(z: float) -> float:
        silent = [(1 - fp) * np.exp(-load * np.exp(model.sigma * z)) for load in cells]
        factors = [1 - miss if found else miss for miss, found in zip(silent, detected, strict=True)]
        return float(np.prod(factors) * stats.norm.pdf(z))

    found = sum(detected)
    mean = integrate.quad(weighted, -9, 9, limit=300)[0]
    return model.unexplained * model.background(found, len(cells) - found) + (1 - model.unexplained) * float(mean)


def test_six_silent_results_at_lambda_2_are_one_site_not_six() -> None:
    # Six 'not detected' at 2 expected cells, sigma 1.5: 0.051 when the discrepancy is the site's.
    assert site_factor(results([2.0] * 6, [False] * 6, 0.0), EXPLAINED)[0] == pytest.approx(0.051, abs=5e-4)


def test_six_independent_silent_results_would_claim_far_too_much() -> None:
    one = site_factor(results([2.0], [False], 0.0), EXPLAINED)[0]
    assert one**6 == pytest.approx(0.0003, abs=5e-5)


def test_first_sample_finds_with_70_in_100_at_lambda_2() -> None:
    silent = conditional_silent(results([], []), np.array([2.0], np.float32), MODEL)
    assert 1 - silent[0] == pytest.approx(0.70, abs=5e-3)


def test_after_one_silent_result_the_next_finds_with_34_in_100() -> None:
    past = results([2.0], [False], 0.0)
    silent = conditional_silent(past, np.array([2.0], np.float32), MODEL)
    assert 1 - silent[0] == pytest.approx(0.34, abs=5e-3)


@pytest.mark.parametrize(
    ("cells", "detected"),
    [
        ([0.5], [True]),
        ([2.0, 0.1], [True, False]),
        ([30.0, 1e-4, 3.0], [True, True, False]),
        ([0.0, 0.0], [True, True]),
    ],
)
def test_factor_agrees_with_adaptive_quadrature(cells: list[float], detected: list[bool]) -> None:
    expected = adaptive(cells, detected, MODEL, 0.002)
    assert site_factor(results(cells, detected), MODEL)[0] == pytest.approx(expected, rel=1e-5, abs=3e-6)


@given(loads, marks)
@settings(deadline=None, derandomize=True, max_examples=60)
def test_a_site_factor_is_a_chance(cells: list[float], detected: list[bool]) -> None:
    assert 0 <= site_factor(results(cells, detected), MODEL)[0] <= 1


@given(loads, marks, st.randoms(use_true_random=False))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_order_of_results_is_irrelevant(cells: list[float], detected: list[bool], shuffler: object) -> None:
    pairs = list(zip(cells, detected, strict=False))
    shuffler.shuffle(pairs)  # type: ignore[attr-defined]
    shuffled = results([load for load, _ in pairs], [mark for _, mark in pairs])
    assert site_factor(shuffled, MODEL)[0] == pytest.approx(site_factor(results(cells, detected), MODEL)[0], rel=1e-9)


@given(loads)
@settings(deadline=None, derandomize=True, max_examples=40)
def test_all_outcomes_of_a_site_sum_to_one(cells: list[float]) -> None:
    count = len(cells)
    outcomes = [[bool(code >> place & 1) for place in range(count)] for code in range(2**count)]
    total = sum(site_factor(results(cells, marks), MODEL)[0] for marks in outcomes)
    assert total == pytest.approx(1.0, abs=2e-5 * 2**count)


@given(st.floats(0, 50, width=32), st.floats(0, 50, width=32))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_a_silent_past_never_raises_what_a_new_sample_finds(before: float, new: float) -> None:
    cells = np.array([new], np.float32)
    fresh = conditional_silent(results([], []), cells, MODEL)[0]
    # A silent result speaks a little for 'the model explains this site': at most eps times the background rate.
    assert conditional_silent(results([before], [False]), cells, MODEL)[0] >= fresh - 0.05 * 0.03


def test_a_past_detection_raises_what_a_new_sample_finds() -> None:
    cells = np.array([0.5], np.float32)
    fresh = conditional_silent(results([], []), cells, MODEL)[0]
    assert conditional_silent(results([0.5], [True]), cells, MODEL)[0] < fresh


def test_conditional_exponent_is_the_logarithm_of_the_conditional_chance() -> None:
    past, cells = results([1.0, 2.0], [True, False]), np.array([3.0], np.float32)
    expected = -np.log(conditional_silent(past, cells, MODEL))
    assert conditional_exponents(past, cells, MODEL) == pytest.approx(expected, rel=1e-6)


def test_rows_without_cells_are_read_as_the_full_form_reads_them() -> None:
    both = SiteResults(np.array([[0.0, 1e-9], [0.0, 1e-9]], np.float32), np.array([True, False]), np.full(2, 0.002))
    nothing, hardly = site_factor(both, MODEL)
    assert nothing == pytest.approx(hardly, rel=1e-4)


def test_background_of_one_detection_is_the_mean_rate() -> None:
    assert beta_moment(1, 0, 0.3, 9.7) == pytest.approx(0.03)


@pytest.mark.parametrize(("sigma", "error"), [(1.0, 1e-8), (1.5, 1e-8), (2.0, 1e-7)])
@pytest.mark.parametrize("silent", [0.0, 0.1, 2.0, 1e4])
@pytest.mark.parametrize("found", [0.01, 1.0, 50.0, 1e3])
def test_quadrature_of_41_points_errs_no_more_than_stated(
    sigma: float, error: float, silent: float, found: float
) -> None:
    model = DetectionModel(sigma=sigma, unexplained=0.0, background_a=0.3, background_b=9.7, false_positive=0.0)
    z = np.linspace(-6, 6, 4001)
    weight = np.exp(-0.5 * z * z) / np.exp(-0.5 * z * z).sum()
    # the product holds loads as float32, so the fine sum is made of the same ones
    silent, found = float(np.float32(silent)), float(np.float32(found))
    finely = weight @ (np.exp(-silent * np.exp(sigma * z)) * -np.expm1(-found * np.exp(sigma * z)))
    assert site_factor(results([silent, found], [False, True], 0.0), model)[0] == pytest.approx(finely, abs=error)
