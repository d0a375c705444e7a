"""What an action does to niches: they are gone, or reduced and growing again, from a moment on."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

import numpy as np
import numpy.typing as npt

from swabwright.plant.figures import Figures

Kind = Literal["gone", "reduced"]
FloatArray = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Treatment:
    """Every niche gone, or reduced by so many log10, at a moment; each source for itself, since sources add up.

    It acts where the slot in which the moment lies ends, on what is there by then; a niche founded later begins as
    any other. What lies on surfaces stays, and only cleaning, die-off and product take it away. Up to that moment
    the histories are those without a treatment, and after it their contacts and cleanings are. For incoming material
    it says that from then on none comes in, or so much less of it.
    """

    at: datetime
    kind: Kind
    log10_range: tuple[float, float] = (0.0, 0.0)
    """Least and most log10 that a reduced niche loses; all between are equally likely."""

    def kept(self, uniform: FloatArray) -> FloatArray:
        """Share of its level that each niche keeps, from a uniform draw for each."""
        if self.kind == "gone":
            return np.zeros_like(uniform)
        low, high = self.log10_range
        return np.asarray(10.0 ** -(low + (high - low) * uniform), dtype=np.float64)


def treatment_of(kind: Kind, at: datetime, figures: Figures) -> Treatment:
    """A treatment of this kind at a moment, with the range of the figures in use."""
    if kind == "gone":
        return Treatment(at, kind)
    low, high = (figures.number(f"treatment.reduced_log10_{end}") for end in ("low", "high"))
    return Treatment(at, kind, (low, high))
