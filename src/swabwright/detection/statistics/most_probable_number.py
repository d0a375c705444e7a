"""Most probable number: how many organisms per gram or millilitre, from tubes with and without growth."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, log

from swabwright.detection.statistics.answer import Interval, shown
from swabwright.detection.statistics.checks import inner_probability
from swabwright.detection.statistics.poisson_fit import Level, fit, rarity

METHOD = "log-normal"
ONE_SIDED = "exact, one-sided"


@dataclass(frozen=True)
class MostProbableNumber:
    """Organisms per unit of amount, with interval, rarity and the standard deviation of its log10."""

    value: float
    """0 when no tube grew, infinite when all did; the interval then has one limit."""
    interval: Interval
    log10_sd: float | None
    rarity: float
    """Chance of these tubes over the likeliest ones at this number, 0 to 1; below 0.05 look for a fault."""
    sentence: str


def most_probable_number(tubes: Sequence[Level], level: float, unit: str = "g") -> MostProbableNumber:
    """The number of organisms per gram (or per the `unit` of the tubes' amounts) that explains the tubes best.

    tubes: for each dilution the amount of the original sample in one tube (above 0), tubes, and tubes with growth.
    Greatest likelihood for organisms spread at random; interval log-normal, at an end exact and one-sided.
    Source: ISO 7218; Jarvis, Wilrich and Wilrich, J Appl Microbiol 2010;109:1660-1667. Errors: ArgumentRefused.
    """
    inner_probability("level", level)
    found = fit(tubes, level)
    ends = found.rate in (0.0, inf)
    interval = Interval(found.low, found.high, level, ONE_SIDED if ends else METHOD)
    sd = None if found.log_sd is None else found.log_sd / log(10)
    likeness = 1.0 if ends else rarity(tubes, found.rate)
    return MostProbableNumber(found.rate, interval, sd, likeness, _sentence(found.rate, interval, unit))


def _sentence(value: float, interval: Interval, unit: str) -> str:
    told = f"({interval.method}, level {interval.level:g})"
    if value == 0.0:
        return f"No tube grew: fewer than {shown(interval.high)} per {unit} {told}."
    if value == inf:
        return f"Every tube grew: more than {shown(interval.low)} per {unit} {told}."
    between = f"{shown(interval.low)} and {shown(interval.high)}"
    return f"{shown(value)} per {unit} is the most probable number, between {between} {told}."
