"""Risk-based sampling: strata that are more or less likely to be contaminated, sampled on purpose unevenly."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isclose, prod

from swabwright.case.words import counted
from swabwright.detection.statistics.answer import Answer, per_100
from swabwright.detection.statistics.checks import (
    ArgumentRefused,
    count,
    positive,
    probability,
    some,
    some_probability,
    within,
)

SUM_TOLERANCE = 1e-6
SHARE_TOLERANCE = 0.01
"""How far a stratum's stated share of the population may lie from the share that its size gives."""


@dataclass(frozen=True)
class Stratum:
    """A part of the population of one risk: drains, wheels, high handles.

    relative_risk: how many times as likely a unit of it is contaminated as one of the stratum set to 1; above 0.
    population_proportion: its share of all units. unit_sensitivity: chance that the sample of a contaminated unit is
    reported as detected. population_size: its number of units, when the finite calculation is wanted.
    """

    name: str
    relative_risk: float
    population_proportion: float
    unit_sensitivity: float = 1.0
    population_size: int | None = None

    def __post_init__(self) -> None:
        positive(f"{self.name}: relative_risk", self.relative_risk)
        some_probability(f"{self.name}: population_proportion", self.population_proportion)
        some_probability(f"{self.name}: unit_sensitivity", self.unit_sensitivity)
        if self.population_size is not None:
            count(f"{self.name}: population_size", self.population_size, 1)


def effective_probabilities(strata: Sequence[Stratum], design_prevalence: float) -> tuple[float, ...]:
    """How likely a unit of each stratum is contaminated, so that the whole population has the design prevalence.

    Adjusted risk AR_i = RR_i / sum(RR_j PPr_j); effective probability of infection EPI_i = AR_i P.
    Source: Martin, Cameron and Greiner, Prev Vet Med 2007;79:71-97. Errors: ArgumentRefused when shares do not sum to
    1, when a stated size belies its share, or when a stratum would have to be contaminated more than wholly.
    """
    some_probability("design_prevalence", design_prevalence)
    _look_at(strata)
    mean_risk = sum(one.relative_risk * one.population_proportion for one in strata)
    return tuple(_effective(one, design_prevalence * one.relative_risk / mean_risk) for one in strata)


def risk_sensitivity(
    strata: Sequence[Stratum], samples: Sequence[int], design_prevalence: float, *, finite: bool
) -> Answer:
    """The chance that so many samples of each stratum show it.

    samples: number for each stratum, in order. finite: False takes each stratum as large, 1 - product of
    (1 - EPI Se)^n; True takes its size into account, product of (1 - n Se / N)^(EPI N), an approximation.
    Source: Martin, Cameron and Greiner, Prev Vet Med 2007;79:71-97. Errors: ArgumentRefused by name.
    """
    probabilities = effective_probabilities(strata, design_prevalence)
    if len(samples) != len(strata):
        raise ArgumentRefused(
            "samples", f"{counted(len(samples), 'number')} for {len(strata)} strata; give one for each"
        )
    missed = _missed_finite if finite else _missed_large
    value = 1.0 - prod(missed(*each) for each in zip(strata, samples, probabilities, strict=True))
    taken = ", ".join(f"{number} of {one.name}" for one, number in zip(strata, samples, strict=True))
    return Answer(
        value,
        f"{taken}: together they show it with a chance of {per_100(value)}, if {per_100(design_prevalence)} units of "
        "the whole are contaminated and the relative risks hold.",
    )


def _missed_large(one: Stratum, samples: int, probability_infected: float) -> float:
    count(f"{one.name}: samples", samples)
    return float((1.0 - probability_infected * one.unit_sensitivity) ** samples)


def _missed_finite(one: Stratum, samples: int, probability_infected: float) -> float:
    if one.population_size is None:
        raise ArgumentRefused(f"{one.name}: population_size", "the finite calculation needs the number of its units")
    within(f"{one.name}: samples", samples, f"{one.name}: population_size", one.population_size)
    tested = samples * one.unit_sensitivity / one.population_size
    return float((1.0 - tested) ** (probability_infected * one.population_size))


def _look_at(strata: Sequence[Stratum]) -> None:
    some("strata", strata)
    total = sum(one.population_proportion for one in strata)
    if not isclose(total, 1.0, abs_tol=SUM_TOLERANCE):
        raise ArgumentRefused("population_proportion", f"the shares of the strata sum to {total:g}, not to 1")
    sizes = [one.population_size for one in strata if one.population_size is not None]
    if len(sizes) == len(strata):
        for one, size in zip(strata, sizes, strict=True):
            _agrees(one, size / sum(sizes))


def _agrees(one: Stratum, by_size: float) -> None:
    if abs(one.population_proportion - by_size) > SHARE_TOLERANCE:
        said = f"stated {one.population_proportion:g}, but its size makes it {by_size:.3g} of all units"
        raise ArgumentRefused(f"{one.name}: population_proportion", said)


def _effective(one: Stratum, chance: float) -> float:
    if chance > 1.0 + SUM_TOLERANCE:
        raise ArgumentRefused(
            f"{one.name}: relative_risk",
            f"its units would be contaminated with a chance of {chance:.3g}; lower design_prevalence or relative_risk",
        )
    return probability("effective probability of infection", min(chance, 1.0))
