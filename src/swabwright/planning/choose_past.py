"""The chance that new samples of a site find nothing, given what earlier samples of it showed."""

import numpy as np
import numpy.typing as npt

from swabwright.detection.phi import exponents
from swabwright.planning.problem import Past, Problem

Array = npt.NDArray[np.float64]


def silent_given_past(problem: Problem, past: Past, site: int, cells: npt.NDArray[np.float32]) -> Array:
    """P(not detected | earlier 'not detected' results) per row for new summed expected cells, shape (S,).

    The discrepancy belongs to the site, so P_site(past + new) / P_site(past); the new items count true finds only.
    """
    unexplained = problem.unexplained if past.unexplained is None else float(past.unexplained[site])
    before = past.factor[site].astype(np.float64)
    fall = np.exp(-exponents(past.cells[site] + cells, problem.sigma, 0.0).astype(np.float64)) / np.exp(
        -exponents(past.cells[site], problem.sigma, 0.0).astype(np.float64)
    )
    return np.asarray((unexplained + (before - unexplained) * fall) / before)
