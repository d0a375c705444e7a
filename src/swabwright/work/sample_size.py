"""Use cases of the trade's statistics: a question in numbers in, an answer with its sentence out."""

from collections.abc import Sequence

from swabwright.detection.statistics.aim import Aim
from swabwright.detection.statistics.answer import Answer, SampleSize
from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.finite import FinitePopulation, exact_sensitivity
from swabwright.detection.statistics.finite_search import exact_sample_size
from swabwright.detection.statistics.large import large_sample_size, large_sensitivity
from swabwright.detection.statistics.performance import Performance
from swabwright.detection.statistics.pools import Pool, pooled_sample_size, pooled_sensitivity
from swabwright.detection.statistics.risk import Stratum, risk_sensitivity
from swabwright.detection.statistics.risk_search import RiskSampleSize, risk_sample_size
from swabwright.detection.statistics.without_replacement import finite_sample_size, finite_sensitivity


def in_large_population(
    samples: int | None, aim: Aim, design_prevalence: float, test: Performance
) -> Answer | SampleSize:
    """What `samples` of a large population reach, or without a number the smallest that reaches the aim."""
    if samples is None:
        return large_sample_size(aim, design_prevalence, test)
    return large_sensitivity(samples, design_prevalence, test, aim.cut_point or 0)


def in_finite_population(
    samples: int | None, aim: Aim, population: FinitePopulation, test: Performance, *, calculation: str
) -> Answer | SampleSize:
    """The same in a finite population, exactly or approximately; false positives and a cut-point need the exact one."""
    if test.false_positive == 0.0 and not aim.cut_point:
        if samples is None:
            return finite_sample_size(aim.system_sensitivity, population, test.unit_sensitivity, calculation)
        return finite_sensitivity(samples, population, test.unit_sensitivity, calculation)
    if calculation != "exact":
        problem = "false positives or a cut-point are computed exactly only; choose exact"
        raise ArgumentRefused("calculation", problem)
    if samples is None:
        return exact_sample_size(aim, population, test)
    return exact_sensitivity(samples, population, test, aim.cut_point or 0)


def in_pools(pools: int | None, aim: Aim, design_prevalence: float, pool: Pool) -> Answer | SampleSize:
    """What `pools` pools reach, or without a number the fewest that reach the aim."""
    if pools is None:
        return pooled_sample_size(aim, design_prevalence, pool)
    return pooled_sensitivity(pools, design_prevalence, pool, aim.cut_point or 0)


def by_risk(
    system_sensitivity: float,
    strata: Sequence[Stratum],
    design_prevalence: float,
    *,
    samples: Sequence[int],
    surveillance_proportions: Sequence[float],
) -> Answer | RiskSampleSize:
    """What so many samples of each stratum reach, or by surveillance proportions the smallest number that does."""
    if samples and surveillance_proportions:
        raise ArgumentRefused("samples", "give samples or surveillance proportions, not both")
    if not samples:
        return risk_sample_size(system_sensitivity, strata, surveillance_proportions, design_prevalence)
    finite = all(one.population_size is not None for one in strata)
    return risk_sensitivity(strata, samples, design_prevalence, finite=finite)
