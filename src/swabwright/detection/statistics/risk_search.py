"""How many risk-based samples, shared out between strata by their surveillance proportions."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, exp, floor, isclose, log1p

from swabwright.case.words import counted
from swabwright.detection.statistics.aim import reaches
from swabwright.detection.statistics.answer import per_100
from swabwright.detection.statistics.checks import ArgumentRefused, inner_probability, probability
from swabwright.detection.statistics.risk import SUM_TOLERANCE, Stratum, effective_probabilities

LEAST_LOG = -700.0
"""Stands for the logarithm of nothing missed at all."""


@dataclass(frozen=True)
class RiskSampleSize:
    """The smallest number of samples that reaches the aim, how it is shared out, and what it reaches."""

    value: int
    samples: tuple[int, ...]
    """For each stratum, in order."""
    system_sensitivity: float
    sentence: str


def risk_sample_size(
    system_sensitivity: float,
    strata: Sequence[Stratum],
    surveillance_proportions: Sequence[float],
    design_prevalence: float,
) -> RiskSampleSize:
    """The smallest number of samples of large strata that shows it with the chance wanted.

    surveillance_proportions: share of all samples taken in each stratum, summing to 1. Samples are shared out by the
    largest remainder, so that the sensitivity can fall from one number to the next; every number from the least that
    could do is looked at. Source: Martin, Cameron and Greiner, Prev Vet Med 2007;79:71-97. Errors: ArgumentRefused.
    """
    inner_probability("system_sensitivity", system_sensitivity)
    probabilities = effective_probabilities(strata, design_prevalence)
    _look_at(surveillance_proportions, len(strata))
    logs = [_log_missed(p * one.unit_sensitivity) for one, p in zip(strata, probabilities, strict=True)]
    # Sharing out whole samples makes the chance go up and down, so the first that does is found by looking at each.
    total = _least_that_could_do(system_sensitivity, logs, surveillance_proportions)
    while not reaches(_reached(shared_out(total, surveillance_proportions), logs), system_sensitivity):
        total += 1
    samples = shared_out(total, surveillance_proportions)
    reached = _reached(samples, logs)
    taken = ", ".join(f"{number} of {one.name}" for one, number in zip(strata, samples, strict=True))
    said = f"{total} samples ({taken}) show it with a chance of {per_100(reached)}, if {per_100(design_prevalence)} "
    return RiskSampleSize(total, samples, reached, f"{said}units of the whole are contaminated and the risks hold.")


def shared_out(total: int, proportions: Sequence[float]) -> tuple[int, ...]:
    """A whole number shared out by proportions: the largest remainders are rounded up, the first of equal ones."""
    exact = [total * share for share in proportions]
    parts = [floor(part) for part in exact]
    order = sorted(range(len(parts)), key=lambda place: parts[place] - exact[place])
    for place in order[: total - sum(parts)]:
        parts[place] += 1
    return tuple(parts)


def _look_at(proportions: Sequence[float], strata: int) -> None:
    if len(proportions) != strata:
        given = f"{counted(len(proportions), 'share')} for {strata} strata"
        raise ArgumentRefused("surveillance_proportions", f"{given}; give one for each, or the samples of each")
    total = sum(probability("surveillance_proportions", share) for share in proportions)
    if not isclose(total, 1.0, abs_tol=SUM_TOLERANCE):
        raise ArgumentRefused("surveillance_proportions", f"they sum to {total:g}, not to 1")


def _log_missed(chance: float) -> float:
    return LEAST_LOG if chance >= 1.0 else log1p(-chance)


def _least_that_could_do(system_sensitivity: float, logs: Sequence[float], proportions: Sequence[float]) -> int:
    """No smaller number can do: sharing out gives a stratum at most one sample more than its exact part."""
    mean = sum(share * log for share, log in zip(proportions, logs, strict=True))
    return max(1, ceil((log1p(-system_sensitivity) - sum(logs)) / mean))


def _reached(samples: Sequence[int], logs: Sequence[float]) -> float:
    return 1.0 - exp(max(sum(number * log for number, log in zip(samples, logs, strict=True)), LEAST_LOG))
