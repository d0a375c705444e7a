"""Weights made more even for a choice, where a handful of histories bears nearly all of what is believed."""

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from swabwright.belief.rows import HypothesisRows

Array = npt.NDArray[np.float64]
HALVINGS = 30
"""Steps of the search for a power; it is then known to a billionth."""


@dataclass(frozen=True)
class Widened:
    """Rows whose weights were raised to a power of at most 1, and the effective histories before and after.

    rows: the same hypotheses, weights summing to 1. power: 1 where nothing was changed.
    """

    rows: HypothesisRows
    power: float
    before: float
    after: float

    @property
    def needed(self) -> bool:
        """Whether any weight was changed."""
        return self.power < 1.0


def widen(rows: HypothesisRows, least: float, widest: float) -> Widened:
    """The rows with weights raised to the greatest power that leaves `least` effective histories, never under `widest`.

    The order of the rows by weight stays, and so do the chances of what a laboratory would say in each of them; only
    how far apart the weights are changes. Raising weights to a power is what tempered sampling does (Neal, Statistics
    and Computing 2001;11:125).
    """
    before = _effective(rows, rows.weight)
    if before >= least:
        return Widened(rows, 1.0, before, before)
    low, high = widest, 1.0
    if _effective(rows, _powered(rows.weight, low)) >= least:
        for _ in range(HALVINGS):
            middle = 0.5 * (low + high)
            enough = _effective(rows, _powered(rows.weight, middle)) >= least
            low, high = (middle, high) if enough else (low, middle)
    weight = _powered(rows.weight, low)
    return Widened(replace(rows, weight=weight), low, before, _effective(rows, weight))


def _powered(weight: Array, power: float) -> Array:
    # a row without weight stays without it, whatever the power
    raised = np.where(weight > 0, np.power(np.maximum(weight, np.finfo(np.float64).tiny), power), 0.0)
    return np.asarray(raised / raised.sum())


def _effective(rows: HypothesisRows, weight: Array) -> float:
    """Kish's effective number of histories."""
    own = np.bincount(rows.history, weight)
    return float(own.sum() ** 2 / np.square(own).sum())
