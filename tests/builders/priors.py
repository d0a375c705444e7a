"""Priors over the sources of an invented bank."""

import numpy as np

from swabwright.belief.prior import Prior
from swabwright.spread.bank import ResponseBank


def prior_over(bank: ResponseBank, *, seed: int = 2) -> Prior:
    """Uneven weights over every source of a bank; one, two, three niches with 0.75, 0.2, 0.05."""
    weight = np.random.default_rng(seed).gamma(1.0, size=len(bank.source_names)) + 0.05
    return Prior(bank.source_names, weight / weight.sum(), np.array([0.75, 0.2, 0.05]), "a test", "invented weights")
