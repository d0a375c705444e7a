"""Binomial chances as plain arrays of floats."""

import numpy as np
from scipy.stats import binom

from swabwright.detection.statistics.arrays import Array, Whole

Values = float | Array | Whole


def binomial_pmf(count: Values, trials: Values, chance: Values) -> Array:
    """P(X = count); arrays are broadcast."""
    return np.asarray(binom.pmf(count, trials, chance), dtype=np.float64)


def binomial_cdf(count: Values, trials: Values, chance: Values) -> Array:
    """P(X <= count); arrays are broadcast."""
    return np.asarray(binom.cdf(count, trials, chance), dtype=np.float64)
