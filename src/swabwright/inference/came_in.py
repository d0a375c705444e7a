"""What a sample of material would move: the chance that it came in with material, before and after."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from swabwright.belief.believe import Belief, incoming_sources
from swabwright.detection.observed import MaterialTest
from swabwright.inference.materials import material_facts

Array = npt.NDArray[np.float64]


class Moved(NamedTuple):
    """Per row of a belief, (S,): whether it came in, and the chance that the test is reported detected."""

    came_in: Array
    detected: Array

    def given(self, weight: Array, *, found: bool) -> Array:
        """Weights of the rows after the test, summing to 1."""
        after = weight * (self.detected if found else 1.0 - self.detected)
        return np.asarray(after / after.sum())


def moved_by(belief: Belief, test: MaterialTest) -> Moved:
    """What one test of material would show in each hypothesis, as if it were reported detected."""
    (fact,) = material_facts(belief.known, belief.rows, (test,))
    sources = belief.rows.sources
    came_in = ((sources >= 0) & incoming_sources(belief.known)[sources]).any(axis=1)
    return Moved(np.asarray(came_in, np.float64), np.asarray(np.clip(fact.factor, 0.0, 1.0), np.float64))
