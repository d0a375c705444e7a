"""Rounds in which nothing was detected: how probable freedom is, when it may come in again between rounds."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import isclose

from swabwright.case.words import counted
from swabwright.detection.statistics.aim import OutOfReach, reaches
from swabwright.detection.statistics.answer import Answer, per_100
from swabwright.detection.statistics.checks import (
    ArgumentRefused,
    inner_probability,
    one_of,
    probability,
    some,
    some_probability,
)

MOMENTS = ("before", "after")
"""When the introduction acts: before each round's sampling, the first included, or after it, the last included."""
MOST_ROUNDS = 10_000
SETTLED = 1e-12


@dataclass(frozen=True)
class Round:
    """One round: the probability of freedom when its samples are taken, after nothing was detected, and at its end."""

    number: int
    system_sensitivity: float
    introduction: float
    before_sampling: float
    after_sampling: float
    at_end: float


@dataclass(frozen=True)
class Freedom:
    """The probability of freedom after the last round, with every round on the way to it."""

    value: float
    rounds: tuple[Round, ...]
    sentence: str


def freedom_after(prior_freedom: float, system_sensitivity: float) -> float:
    """The probability of freedom after one round in which nothing was detected, at perfect specificity.

    P = prior / (prior + (1 - prior)(1 - SSe)), all from 0 to 1. Source: Martin, Cameron and Greiner, Prev Vet Med
    2007;79:71-97. Errors: ArgumentRefused; also when such a round could not have happened.
    """
    probability("prior_freedom", prior_freedom)
    probability("system_sensitivity", system_sensitivity)
    missed = (1.0 - prior_freedom) * (1.0 - system_sensitivity)
    if prior_freedom + missed == 0.0:
        raise ArgumentRefused("prior_freedom", "0 with a system sensitivity of 1: such a round cannot detect nothing")
    return prior_freedom / (prior_freedom + missed)


def freedom_over_rounds(
    prior_freedom: float, system_sensitivity: Sequence[float], introduction: Sequence[float], moment: str
) -> Freedom:
    """The probability of freedom after rounds in each of which nothing was detected.

    prior_freedom: before anything, 0 to 1. system_sensitivity: one for each round. introduction: chance that it comes
    in, for each round, or a single constant one. moment: one of MOMENTS, when that chance acts; it turns a
    probability of freedom P into P (1 - introduction). Source: Martin, Cameron and Greiner, Prev Vet Med
    2007;79:71-97. Errors: ArgumentRefused by name.
    """
    some("system_sensitivity", system_sensitivity)
    risks = _for_each(introduction, len(system_sensitivity))
    one_of("moment", moment, MOMENTS)
    free, rounds = probability("prior_freedom", prior_freedom), []
    for number, (sensitivity, risk) in enumerate(zip(system_sensitivity, risks, strict=True), start=1):
        rounds.append(_one_round(number, free, sensitivity, risk, moment))
        free = rounds[-1].at_end
    return Freedom(free, tuple(rounds), _sentence(rounds, moment))


def rounds_needed(
    prior_freedom: float, system_sensitivity: float, introduction: float, moment: str, *, wanted: float
) -> Freedom:
    """The fewest like rounds, nothing detected in any, after which the probability of freedom is `wanted` or more.

    Arguments as of `freedom_over_rounds`, constant over rounds. Errors: ArgumentRefused; OutOfReach, with the
    equilibrium, when the probability of freedom never gets there.
    """
    inner_probability("wanted", wanted)
    one_of("moment", moment, MOMENTS)
    free, rounds = probability("prior_freedom", prior_freedom), list[Round]()
    while len(rounds) < MOST_ROUNDS:
        rounds.append(_one_round(len(rounds) + 1, free, system_sensitivity, introduction, moment))
        if reaches(rounds[-1].at_end, wanted):
            return Freedom(rounds[-1].at_end, tuple(rounds), _sentence(rounds, moment))
        # A round that changes nothing will be followed by others that change nothing.
        if isclose(rounds[-1].at_end, free, rel_tol=SETTLED, abs_tol=SETTLED):
            break
        free = rounds[-1].at_end
    raise OutOfReach(
        f"wanted: after {len(rounds)} rounds the probability of freedom stays at {per_100(rounds[-1].at_end)}, below "
        f"{per_100(wanted)}; more samples a round or a smaller chance of coming in would help"
    )


def _one_round(number: int, free: float, sensitivity: float, risk: float, moment: str) -> Round:
    kept = 1.0 - probability("introduction", risk)
    before = free * kept if moment == MOMENTS[0] else free
    after = freedom_after(before, sensitivity)
    return Round(number, sensitivity, risk, before, after, after * kept if moment == MOMENTS[1] else after)


def _for_each(introduction: Sequence[float], rounds: int) -> Sequence[float]:
    some("introduction", introduction)
    if len(introduction) == 1:
        return [introduction[0]] * rounds
    if len(introduction) != rounds:
        raise ArgumentRefused(
            "introduction", f"{len(introduction)} chances for {counted(rounds, 'round')}; give one, or one each"
        )
    return introduction


def _sentence(rounds: Sequence[Round], moment: str) -> str:
    last = rounds[-1]
    acts = (
        ""
        if all(one.introduction == 0.0 for one in rounds)
        else f", the chance of coming in acting {moment} each round"
    )
    return (
        f"After {len(rounds)} round{'' if len(rounds) == 1 else 's'} with nothing detected it is free with a "
        f"probability of {per_100(last.at_end)}, and contaminated at the design prevalence or above with "
        f"{per_100(1 - last.at_end)}{acts}, under these assumptions."
    )


def equilibrium(system_sensitivity: float, introduction: float, moment: str) -> Answer:
    """The probability of freedom at the end of a round to which endless like rounds with nothing detected lead.

    1 - i / SSe when the introduction i acts after each round, (1 - i / SSe) / (1 - i) when it acts before; 0 when i is
    as large as SSe. Both follow from setting the next round's value equal to this one's. system_sensitivity: above
    0 to 1. introduction: from 0 to below 1. Errors: ArgumentRefused by name.
    """
    some_probability("system_sensitivity", system_sensitivity)
    one_of("moment", moment, MOMENTS)
    if probability("introduction", introduction) == 1.0:
        raise ArgumentRefused("introduction", "1 leaves no freedom at all; give a chance below 1")
    value = max(0.0, 1.0 - introduction / system_sensitivity)
    if moment == MOMENTS[0]:
        value /= 1.0 - introduction
    said = f"Rounds of a system sensitivity of {per_100(system_sensitivity)} lead to a probability of freedom of "
    return Answer(value, f"{said}{per_100(value)}, with {per_100(introduction)} coming in {moment} each round.")


def sensitivity_for_freedom(prior_freedom: float, wanted: float) -> Answer:
    """The system sensitivity that one round needs, so that the probability of freedom becomes `wanted`.

    SSe = 1 - prior (1 - wanted) / (wanted (1 - prior)), 0 when the prior has it already; both above 0 and below 1.
    Source: Bayes' theorem, as in Martin, Cameron and Greiner, Prev Vet Med 2007;79:71-97. Errors: ArgumentRefused.
    """
    inner_probability("prior_freedom", prior_freedom)
    inner_probability("wanted", wanted)
    value = max(0.0, 1.0 - prior_freedom * (1.0 - wanted) / (wanted * (1.0 - prior_freedom)))
    said = f"One round with nothing detected needs a system sensitivity of {per_100(value)} to lift the probability of "
    return Answer(value, f"{said}freedom from {per_100(prior_freedom)} to {per_100(wanted)}.")
