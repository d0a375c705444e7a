"""How likely a site stays silent: the mean of exp(-cells) over what the model misses about that site."""

from functools import lru_cache

import numpy as np
import numpy.typing as npt
from numba import njit

FloatArray = npt.NDArray[np.float32]
Table = npt.NDArray[np.float64]

NODES = 128
"""Gauss-Hermite points: with sigma up to 3 the error stays below 1e-6 everywhere in the table."""
LOWEST_EXPONENT = -30
HIGHEST_EXPONENT = 32
MANTISSA_BITS = 8
_DROPPED_BITS = 23 - MANTISSA_BITS
_STEP = 1.0 / (1 << _DROPPED_BITS)
_LOW_MASK = np.uint32((1 << _DROPPED_BITS) - 1)
_FIRST = (127 + LOWEST_EXPONENT) << MANTISSA_BITS
_CELLS_AT_FIRST = 2.0**LOWEST_EXPONENT
SMALLEST_CHANCE = 1e-38
"""Floor of a chance before its logarithm is taken, so that an exponent stays finite without an unexplained share."""


@lru_cache(maxsize=32)
def phi_table(sigma: float) -> Table:
    """Phi at every value of L whose float32 pattern ends after 8 mantissa bits; read-only, float64.

    Phi(L) = E exp(-L exp(sigma z)) with z standard normal, by Gauss-Hermite quadrature in float64. sigma is the
    ln standard deviation of what the model misses about a site (a median-1 lognormal factor).
    """
    if not sigma >= 0:
        raise ValueError(f"the spread of what a model misses cannot be {sigma}")
    exact = phi(table_cells(), sigma)
    exact.flags.writeable = False
    return exact


def phi(cells: npt.ArrayLike, sigma: float) -> Table:
    """Phi(L) by quadrature, for any shape of L >= 0; slow and accurate, the table is made of it."""
    nodes, weights = np.polynomial.hermite_e.hermegauss(NODES)
    factor = np.exp(sigma * nodes)
    load = np.asarray(cells, dtype=np.float64)
    total = np.zeros_like(load)
    for weight, times in zip(weights / weights.sum(), factor, strict=True):
        total += weight * np.exp(-load * times)
    return total


def table_cells() -> Table:
    """The loads L at which a table that `phi_at` reads holds its values, float64."""
    last = (127 + HIGHEST_EXPONENT) << MANTISSA_BITS
    patterns = np.arange(_FIRST, last + 1, dtype=np.uint32) << np.uint32(_DROPPED_BITS)
    return patterns.view(np.float32).astype(np.float64)


@njit(inline="always", nogil=True)
def phi_at(table: Table, cells: float) -> float:
    """Phi at the summed expected cells L of one site, from the table; 1 at 0, falling, never below 0.

    The top bits of the float32 pattern of L are the index, the others interpolate linearly: no logarithm.
    """
    # a float32 pattern is already exponent and mantissa: its top bits are a logarithmic index for free
    bits = np.float32(cells).view(np.uint32)
    index = np.int64(bits >> np.uint32(_DROPPED_BITS)) - _FIRST
    # so few cells that silence falls along a straight line
    if index < 0:
        return float(1.0 - (1.0 - table[0]) * (cells / _CELLS_AT_FIRST))
    if index >= table.shape[0] - 1:
        return float(table[table.shape[0] - 1])
    part = np.float64(bits & _LOW_MASK) * _STEP
    return float(table[index] + part * (table[index + 1] - table[index]))


@njit(inline="always", nogil=True)
def silent_chance(table: Table, cells: float, unexplained: float) -> float:
    """Chance that a site with summed expected cells L gives no true find: eps + (1 - eps) Phi(L)."""
    return unexplained + (1.0 - unexplained) * float(phi_at(table, cells))


@njit(nogil=True)
def find_exponent(table: Table, cells: float, unexplained: float) -> float:
    """A(L) = -log(eps + (1 - eps) Phi(L)) of one site, the planning form; at most -log eps, 0 at L = 0."""
    return -float(np.log(max(silent_chance(table, cells, unexplained), SMALLEST_CHANCE)))


@njit(nogil=True, cache=True)
def _fill_exponents(table: Table, cells: FloatArray, unexplained: float, out: FloatArray) -> None:
    for index in range(cells.shape[0]):
        out[index] = find_exponent(table, cells[index], unexplained)


def exponents(cells: FloatArray, sigma: float, unexplained: float) -> FloatArray:
    """A(L) of every site and row at once, for summed expected cells L of any shape."""
    flat = np.ascontiguousarray(cells, dtype=np.float32).reshape(-1)
    out = np.empty_like(flat)
    _fill_exponents(phi_table(sigma), flat, unexplained, out)
    return out.reshape(cells.shape)
