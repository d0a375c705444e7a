"""Pooled samples: several units' samples put together and tested as one."""

from dataclasses import dataclass

from swabwright.detection.statistics.aim import Aim
from swabwright.detection.statistics.answer import Answer, SampleSize
from swabwright.detection.statistics.checks import count, some_probability, within
from swabwright.detection.statistics.large import as_sample_size, sensitivity_sentence
from swabwright.detection.statistics.performance import Performance
from swabwright.detection.statistics.trials import Trial, reached, smallest


@dataclass(frozen=True)
class Pool:
    """How many units make one pool, and how well the test of a pool tells.

    test: the unit is the pool: sensitivity for a pool with at least one contaminated unit (dilution included),
    specificity for a pool without any.
    """

    size: int
    test: Performance

    def __post_init__(self) -> None:
        count("pool_size", self.size, 1)

    def trial(self, design_prevalence: float) -> Trial:
        """The chance of a positive pool: 1 - (1 - P)^k of the pools hold a contaminated unit."""
        some_probability("design_prevalence", design_prevalence)
        holds_one = 1.0 - (1.0 - design_prevalence) ** self.size
        return Trial(self.test.apparent(holds_one), self.test.false_positive)


def pooled_sensitivity(pools: int, design_prevalence: float, pool: Pool, cut_point: int = 0) -> Answer:
    """The chance that `pools` pools show it, if it is in `design_prevalence` of a large population.

    pools: pools tested, 1 or more. cut_point: largest number of positive pools that still counts as not detected.
    Formula: X binomial(pools, p), p = (1 - (1 - P)^k) Se + (1 - P)^k (1 - Sp); P(X > cut-point).
    Source: Christensen and Gardner, Prev Vet Med 2000;45:83-106. Errors: ArgumentRefused by name.
    """
    count("pools", pools, 1)
    within("cut_point", cut_point, "pools", pools)
    found = reached(pool.trial(design_prevalence), pools, cut_point)
    return Answer(found.system_sensitivity, sensitivity_sentence(found, design_prevalence, _named(pool)))


def pooled_sample_size(aim: Aim, design_prevalence: float, pool: Pool) -> SampleSize:
    """The smallest number of pools (not units) that reaches the aim; `largest_sample` counts pools.

    Source and formula as of `pooled_sensitivity`. Errors: ArgumentRefused; OutOfReach when no number of pools does.
    """
    return as_sample_size(smallest(pool.trial(design_prevalence), aim), design_prevalence, _named(pool))


def _named(pool: Pool) -> str:
    return f"{pool.size}-unit pool"
