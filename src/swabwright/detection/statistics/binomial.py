"""Binomial chances as plain arrays of floats."""

import numpy as np
import numpy.typing as npt
from scipy.stats import binom

Array = npt.NDArray[np.float64]
Values = float | Array | npt.NDArray[np.int64]


def binomial_pmf(count: Values, trials: Values, chance: Values) -> Array:
    """P(X = count); arrays are broadcast."""
    return np.asarray(binom.pmf(count, trials, chance), dtype=np.float64)


def binomial_cdf(count: Values, trials: Values, chance: Values) -> Array:
    """P(X <= count); arrays are broadcast."""
    return np.asarray(binom.cdf(count, trials, chance), dtype=np.float64)
