"""Hypothesis rows: a history with one, two or three niches, weighted by prior and evidence."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt


@dataclass(frozen=True)
class HypothesisRows:
    """S weighted hypotheses drawn from a bank.

    history: (S,) index into the bank. sources: (S, 3) source indices, -1 for none.
    weight: (S,) prior x evidence / proposal, summing to 1. copy: (S,) structural copy.
    """

    history: npt.NDArray[np.int32]
    sources: npt.NDArray[np.int32]
    weight: npt.NDArray[np.float64]
    copy: npt.NDArray[np.int16]

    def __len__(self) -> int:
        return int(self.history.shape[0])

    @property
    def effective_size(self) -> float:
        """Kish's effective number of rows: 1 / sum of squared weights."""
        return float(1.0 / np.square(self.weight).sum())
