"""How likely further samples are to settle where it lives: outcomes drawn, each read, and the leading site's chance."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.inference.outcome_paths import Foreseen

Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int32]
BoolArray = npt.NDArray[np.bool_]


class Settled(NamedTuple):
    """Of so many drawn outcomes: the share whose leading site passes the claim, and of all those that are right."""

    claimed: float
    claimed_and_right: float
    outcomes: int


def claims(
    what: Foreseen, weights: Array, true_row: npt.NDArray[np.int64], sources: IntArray, claim: tuple[float, BoolArray]
) -> Settled:
    """How often the outcomes lift the chance of one site above the claim, and how often that site is a niche.

    weights: (J, S) of rows on each path. true_row: (J,) the hypothesis behind each. sources: (S, 3) of the rows as they
    were before they were ordered. claim: the chance to pass, and which sources are sites.
    """
    passing, sites = claim
    niches = np.ascontiguousarray(sources[what.order])
    marginal = np.zeros((len(weights), len(sites)))
    _add_up(weights, niches, marginal)
    named = np.where(sites, marginal, 0.0)
    leading = named.argmax(axis=1)
    passes = named[np.arange(len(named)), leading] > passing
    right = (niches[true_row] == leading[:, None]).any(axis=1)
    return Settled(float(passes.mean()), float((passes & right).mean()), len(weights))


@njit(cache=True, nogil=True)
def _add_up(weights: Array, niches: IntArray, out: Array) -> None:
    for path in range(weights.shape[0]):
        for row in range(weights.shape[1]):
            for place in range(niches.shape[1]):
                if niches[row, place] >= 0:
                    out[path, niches[row, place]] += weights[path, row]
