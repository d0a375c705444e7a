"""Whether a batch of samples was itself contaminated, as its blanks tell; its results share the answer."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product
from math import fsum, prod

from scipy.special import roots_jacobi

from swabwright.detection.model import beta_moment
from swabwright.detection.observed import Blanks, Observations
from swabwright.plant.figures import Figures

NODES = 2
"""Gauss-Jacobi points of a contaminated batch's rate: two keep its mean and its spread."""
MOST_CONTAMINATED = 2
"""Batches that may be contaminated in one state; three at once is left out as too rare to matter."""


@dataclass(frozen=True)
class BatchState:
    """One way in which the batches may be: its chance before the results, and the false-positive rate of each."""

    chance: float
    rates: dict[str, float]
    contaminated: frozenset[str]


@dataclass(frozen=True)
class _Way:
    chance: float
    rate: float
    contaminated: bool


def batch_states(observations: Observations, figures: Figures) -> tuple[BatchState, ...]:
    """Every way in which batches with a detection may be, the first one all clean, chances summing to 1.

    A batch is clean, with the usual false-positive rate, or contaminated with a rate from a beta distribution; both as
    its own blanks leave them. A batch without a detection is taken as clean: its rate moves no hypothesis much.
    """
    usual = figures.number("detection.false_positive")
    every = sorted({result.batch for result in observations.results})
    open_to_doubt = sorted({result.batch for result in observations.results if result.detected})
    ways = [_ways(batch, observations.blanks, figures) for batch in open_to_doubt]
    states = [
        BatchState(
            prod(way.chance for way in chosen),
            dict.fromkeys(every, usual) | dict(zip(open_to_doubt, (way.rate for way in chosen), strict=True)),
            frozenset(batch for batch, way in zip(open_to_doubt, chosen, strict=True) if way.contaminated),
        )
        for chosen in product(*ways)
    ]
    kept = [state for state in states if len(state.contaminated) <= MOST_CONTAMINATED]
    total = fsum(state.chance for state in kept)
    return tuple(BatchState(state.chance / total, state.rates, state.contaminated) for state in kept)


def _ways(batch: str, blanks: Iterable[Blanks], figures: Figures) -> list[_Way]:
    own = [one for one in blanks if one.batch == batch]
    found, silent = sum(one.detected for one in own), sum(one.silent for one in own)
    usual, share = figures.number("detection.false_positive"), figures.number("batch.contaminated")
    first, second = figures.number("batch.rate_beta_a"), figures.number("batch.rate_beta_b")
    clean = (1.0 - share) * usual**found * (1.0 - usual) ** silent
    dirty = share * beta_moment(found, silent, first, second)
    # the rate of a contaminated batch after its blanks is Beta(a + found, b + silent)
    places, weights = roots_jacobi(NODES, second + silent - 1.0, first + found - 1.0)
    total = float(weights.sum())
    rates = [(0.5 * (1.0 + float(place)), float(weight) / total) for place, weight in zip(places, weights, strict=True)]
    sum_of = clean + dirty
    return [
        _Way(clean / sum_of, usual, contaminated=False),
        *(_Way(dirty * weight / sum_of, rate, contaminated=True) for rate, weight in rates),
    ]
