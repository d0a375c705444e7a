"""Uniform and normal draws from random words."""

import numpy as np
import numpy.typing as npt
from scipy.special import ndtr, ndtri

from swabwright.compute.philox import WordArray

FloatArray = npt.NDArray[np.float64]
WORD_SPAN = 2.0**32


def uniforms(words: WordArray) -> FloatArray:
    """Draws strictly between 0 and 1, one a word: the middle of the word's own step."""
    return (words.astype(np.float64) + 0.5) / WORD_SPAN


def normals(words: WordArray) -> FloatArray:
    """Standard normal draws, one a word, by the inverse of the normal distribution."""
    return np.asarray(ndtri(uniforms(words)), dtype=np.float64)


def lognormal_steps(ln_sd: float, steps: int, *, mean_one: bool) -> FloatArray:
    """Values of `steps` equally likely steps of a lognormal, each the mean of its own step.

    The mean over the steps is exactly 1 when `mean_one`, else exp(ln_sd^2 / 2), the mean of a median-1 lognormal.
    """
    edges = ndtri(np.linspace(0.0, 1.0, steps + 1))
    share = np.diff(ndtr(edges - ln_sd)) * steps
    return share * (1.0 if mean_one else float(np.exp(0.5 * ln_sd**2)))
