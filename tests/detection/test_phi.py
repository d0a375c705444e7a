"""Laws and golden values of the silent chance of a site."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from swabwright.detection.phi import exponents, find_exponent, phi, phi_at, phi_table

cells_range = st.floats(0, 1e6, width=32)
sigmas = st.sampled_from([0.0, 0.5, 1.0, 1.5, 2.0])


def adaptive_phi(cells: float, sigma: float) -> float:
    """The same mean by adaptive quadrature: independent of the nodes used in the product."""

    def weighted(z: float) -> float:
        return float(np.exp(-cells * np.exp(sigma * z)) * stats.norm.pdf(z))

    return float(integrate.quad(weighted, -12, 12, limit=400)[0])


@pytest.mark.parametrize("cells", [1e-6, 0.01, 0.3, 2.0, 12.0, 400.0, 3e5])
@pytest.mark.parametrize("sigma", [1.0, 1.5, 2.5])
def test_table_agrees_with_adaptive_quadrature(cells: float, sigma: float) -> None:
    assert phi_at(phi_table(sigma), cells) == pytest.approx(adaptive_phi(cells, sigma), abs=3e-6)


def test_without_discrepancy_a_site_is_silent_as_a_poisson_count() -> None:
    cells = np.array([0.0, 0.1, 1.0, 5.0])
    assert phi(cells, 0.0) == pytest.approx(np.exp(-cells), rel=1e-12)


@given(cells_range, cells_range, sigmas)
@settings(deadline=None, derandomize=True)
def test_more_cells_never_make_a_site_more_silent(first: float, second: float, sigma: float) -> None:
    table = phi_table(sigma)
    low, high = sorted((first, second))
    assert 0 <= phi_at(table, high) <= phi_at(table, low) <= 1


def test_no_cells_are_always_silent() -> None:
    assert phi_at(phi_table(1.5), 0.0) == 1.0


def test_cells_beyond_the_table_are_never_silent() -> None:
    assert phi_at(phi_table(1.0), 1e30) == pytest.approx(0, abs=1e-12)


def test_exponent_is_capped_at_the_unexplained_share() -> None:
    assert find_exponent(phi_table(1.0), 1e12, 0.02) == pytest.approx(-np.log(0.02))


def test_exponent_stays_finite_when_everything_is_explained() -> None:
    assert np.isfinite(exponents(np.array([1e20], np.float32), 1.0, 0.0)).all()


@pytest.mark.parametrize("sigma", [0.5, 1.0, 1.5])
def test_exponent_is_concave_in_cells(sigma: float) -> None:
    cells = np.linspace(0.0, 40.0, 2001)
    silent = 0.02 + 0.98 * np.array([phi_at(phi_table(sigma), value) for value in cells])
    assert (np.diff(-np.log(silent), 2) < 1e-5).all()


def test_exponents_keep_shape_and_equal_the_single_lookup() -> None:
    cells = np.array([[0.0, 0.5], [3.0, 100.0]], np.float32)
    single = [[find_exponent(phi_table(1.0), value, 0.05) for value in row] for row in cells]
    assert exponents(cells, 1.0, 0.05) == pytest.approx(np.array(single), rel=1e-6)


def test_negative_spread_is_refused() -> None:
    with pytest.raises(ValueError, match="cannot be"):
        phi_table(-1.0)
