"""The chance of all results at one site together: what the model misses belongs to the site, not to a result."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.detection.model import DetectionModel
from swabwright.detection.phi import SMALLEST_CHANCE, phi_at, phi_table

FloatArray = npt.NDArray[np.float32]
Array = npt.NDArray[np.float64]

POINTS = 41
"""Trapezoid points in z from -6 to 6: the error stays below 1e-8 at sigma 1.5 and below 1e-7 at sigma 2."""
FURTHEST_Z = 6.0


@dataclass(frozen=True)
class SiteResults:
    """All results at one site: expected cells of each result in each row, and what was found.

    cells: (J, S), CFU in the container. detected: (J,). false_positive: (J,), of each result's batch.
    """

    cells: FloatArray
    detected: npt.NDArray[np.bool_]
    false_positive: Array

    @property
    def counts(self) -> tuple[int, int]:
        """How many results are 'detected' and how many 'not detected'."""
        found = int(self.detected.sum())
        return found, int(self.detected.size) - found


def site_factor(results: SiteResults, model: DetectionModel) -> Array:
    """Chance of exactly these results at one site in each row, shape (S,); independent of their order.

    P = eps U(m, n) + (1 - eps) E_z[product over 'not detected' of (1 - fp) exp(-lambda g) x product over 'detected' of
    (1 - (1 - fp) exp(-lambda g))], g = exp(sigma z), z standard normal and shared by the site's results.
    """
    unexplained = model.unexplained * model.background(*results.counts)
    return unexplained + (1.0 - model.unexplained) * explained(results, model)


def conditional_silent(past: SiteResults, cells: FloatArray, model: DetectionModel) -> Array:
    """Chance per row that a new sample with these expected cells finds nothing, given the site's past; shape (S,).

    The past counts in full form; the new sample counts true finds only (no background, no false positive), under
    what the past says of the site's discrepancy and of whether the model explains it.
    """
    # a fresh site: only the sample itself, and true finds alone
    if not past.detected.size:
        return model.unexplained + (1.0 - model.unexplained) * _look_up(
            phi_table(model.sigma), cells.astype(np.float64)
        )
    unexplained = model.unexplained * model.background(*past.counts)
    before = unexplained + (1.0 - model.unexplained) * explained(past, model)
    after = unexplained + (1.0 - model.unexplained) * explained(past, model, extra=cells)
    return np.asarray(after / np.maximum(before, SMALLEST_CHANCE))


def conditional_exponents(past: SiteResults, cells: FloatArray, model: DetectionModel) -> FloatArray:
    """A of a new sample at a site with a past: -log of the chance that it finds nothing, shape (S,)."""
    silent = np.maximum(conditional_silent(past, cells, model), SMALLEST_CHANCE)
    return np.asarray(-np.log(silent), dtype=np.float32)


def explained(results: SiteResults, model: DetectionModel, extra: FloatArray | None = None) -> Array:
    """Chance of the results in each row where the model explains the site; `extra` silent cells may be added.

    Without a detection, and for a single detection alone, the table of Phi answers; else quadrature over z.
    """
    silent = results.cells[~results.detected].sum(axis=0, dtype=np.float64)
    silent = silent if extra is None else silent + extra
    found = np.asarray(results.cells[results.detected], dtype=np.float64)
    true_silent = float(np.prod(1.0 - results.false_positive[~results.detected]))
    table = phi_table(model.sigma)
    if not len(found):
        return true_silent * _look_up(table, silent)
    false_positive = results.false_positive[results.detected]
    # one detection alone needs no quadrature: it is one less the chance of silence
    if len(found) == 1 and extra is None and not results.counts[1]:
        return 1.0 - (1.0 - float(false_positive[0])) * _look_up(table, found[0])
    return true_silent * _integrate(silent, np.ascontiguousarray(found), false_positive, model.sigma)


def _integrate(silent: Array, found: Array, false_positive: Array, sigma: float) -> Array:
    z = np.linspace(-FURTHEST_Z, FURTHEST_Z, POINTS)
    weight = np.exp(-0.5 * z * z)
    out = np.empty(silent.shape[0])
    _fill_integrals((silent, found, false_positive), (np.exp(sigma * z), weight / weight.sum()), out)
    return out


@njit(cache=True, nogil=True)
def _look_up_into(table: Array, cells: Array, out: Array) -> None:
    for row in range(cells.shape[0]):
        out[row] = phi_at(table, cells[row])


def _look_up(table: Array, cells: Array) -> Array:
    out = np.empty(cells.shape[0])
    _look_up_into(table, np.ascontiguousarray(cells), out)
    return out


@njit(cache=True, nogil=True)
def _integral(silent: float, found: Array, false_positive: Array, factor: Array, weight: Array) -> float:
    total = 0.0
    for point in range(factor.shape[0]):
        chance = weight[point] * np.exp(-silent * factor[point])
        for result in range(found.shape[0]):
            # expm1 keeps the chance of a detection at a very small load, where 1 - exp would lose it
            miss = -np.expm1(-found[result] * factor[point])
            chance *= false_positive[result] + (1.0 - false_positive[result]) * miss
        total += chance
    return total


@njit(cache=True, nogil=True)
def _fill_integrals(results: tuple[Array, Array, Array], rule: tuple[Array, Array], out: Array) -> None:
    silent, found, false_positive = results
    factor, weight = rule
    nothing = _integral(0.0, np.zeros(found.shape[0]), false_positive, factor, weight)
    for row in range(silent.shape[0]):
        # rows without a cell at the site are most rows, and all alike
        if silent[row] == 0.0 and not found[:, row].any():
            out[row] = nothing
        else:
            out[row] = _integral(silent[row], found[:, row], false_positive, factor, weight)
