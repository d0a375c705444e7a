"""What each result does: where it lives with it against where it lives without it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from swabwright.belief.prior import Prior
from swabwright.detection.observed import Observations
from swabwright.errors import NothingFits
from swabwright.inference.batches import BatchState
from swabwright.inference.facts import read_facts
from swabwright.inference.posterior import Posterior, posterior
from swabwright.inference.reading import Reading

Array = npt.NDArray[np.float64]
LEAST_STATE = 0.02
"""States of the batches with less of the posterior than this are left aside: they hardly move a difference."""
HISTORIES_A_PAIR = 30
"""A difference between two answers on the same histories is steady with fewer histories a pair."""


@dataclass(frozen=True)
class Without:
    """One sample, and the chance of a niche at each source with and without its result, both (sources,)."""

    sample: str
    with_it: Array
    without_it: Array
    share_without: Array

    @property
    def points(self) -> Array:
        """Points in 100 by which the result moves each source."""
        return 100.0 * (self.with_it - self.without_it)


def leave_each_out(reading: Reading, prior: Prior, after: Posterior, observations: Observations) -> Iterator[Without]:
    """Every result of the observations left out once; results of earlier dates stay in throughout."""
    base = replace(reading, states=_states_that_matter(after))
    with_it = _answer(base, prior)
    if with_it is None:
        return
    for sample in sorted(observations.samples):
        without = _answer(_without(base, observations, sample), prior)
        if without is not None:
            yield Without(sample, with_it.marginal, without.marginal, without.share)


def _states_that_matter(after: Posterior) -> tuple[BatchState, ...]:
    """The first state, all clean, is the one that readings are of, so it always stays."""
    first, *others = after.states
    whole = sum(weight for _, weight in after.states)
    return (first[0], *(state for state, weight in others if weight >= LEAST_STATE * whole))


def _without(reading: Reading, observations: Observations, sample: str) -> Reading:
    if any(one.sample == sample for one in observations.results):
        return reading.without(frozenset({sample}))
    kept = tuple(one for one in observations.materials if one.sample != sample)
    return replace(reading, facts=read_facts(reading.known, kept))


def _answer(reading: Reading, prior: Prior) -> Posterior | None:
    try:
        return posterior(reading, prior, histories_a_pair=HISTORIES_A_PAIR)
    # without this result the facts fit nothing: then nothing can be said of what it does
    except NothingFits:
        return None
