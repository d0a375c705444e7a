"""Intervals of a share from a count: so many detected of so many samples."""

from collections.abc import Callable, Mapping
from math import sqrt

from scipy.special import betaincinv, ndtri

from swabwright.detection.statistics.answer import Answer, Interval, per_100
from swabwright.detection.statistics.checks import count, inner_probability, one_of, within

Limits = tuple[float, float]
Method = Callable[[int, int, float], Limits]


def wilson(detected: int, samples: int, level: float) -> Limits:
    """The score interval, good at any size (Wilson, J Am Stat Assoc 1927;22:209-212)."""
    z = float(ndtri((1 + level) / 2))
    share, weight = detected / samples, z * z / samples
    middle = (share + weight / 2) / (1 + weight)
    half = z * sqrt(share * (1 - share) / samples + weight / (4 * samples)) / (1 + weight)
    # At the ends one limit is exactly 0 or 1; rounding must not move it off.
    return (0.0 if detected == 0 else middle - half), (1.0 if detected == samples else middle + half)


def clopper_pearson(detected: int, samples: int, level: float) -> Limits:
    """The exact interval: covers at least `level`, often more (Clopper and Pearson, Biometrika 1934;26:404-413)."""
    tail = (1 - level) / 2
    low = betaincinv(detected, samples - detected + 1, tail) if detected else 0.0
    high = betaincinv(detected + 1, samples - detected, 1 - tail) if detected < samples else 1.0
    return float(low), float(high)


def jeffreys(detected: int, samples: int, level: float) -> Limits:
    """The equal-tailed interval of a beta(1/2, 1/2) prior; an end is 0 when nothing, 1 when all is detected.

    Source: Brown, Cai and DasGupta, Statistical Science 2001;16:101-133.
    """
    tail, a, b = (1 - level) / 2, detected + 0.5, samples - detected + 0.5
    low = betaincinv(a, b, tail) if detected else 0.0
    high = betaincinv(a, b, 1 - tail) if detected < samples else 1.0
    return float(low), float(high)


def agresti_coull(detected: int, samples: int, level: float) -> Limits:
    """The plain interval after adding z squared samples, half of them detected; cut off at 0 and 1.

    Source: Agresti and Coull, The American Statistician 1998;52:119-126.
    """
    z = float(ndtri((1 + level) / 2))
    total = samples + z * z
    middle = (detected + z * z / 2) / total
    half = z * sqrt(middle * (1 - middle) / total)
    return max(0.0, middle - half), min(1.0, middle + half)


METHODS: Mapping[str, Method] = {
    "wilson": wilson,
    "clopper-pearson": clopper_pearson,
    "jeffreys": jeffreys,
    "agresti-coull": agresti_coull,
}
"""The four intervals by name."""


def share_interval(detected: int, samples: int, level: float, method: str) -> Interval:
    """The interval of the share behind `detected` of `samples`, by one of METHODS; a wrong argument is refused."""
    count("samples", samples, 1)
    within("detected", detected, "samples", samples)
    inner_probability("level", level)
    low, high = METHODS[one_of("method", method, list(METHODS))](detected, samples, level)
    return Interval(low, high, level, method)


def share(detected: int, samples: int, level: float, method: str) -> Answer:
    """The share detected with its interval: '3 of 60 samples detected, 5 in 100 (...)'."""
    interval = share_interval(detected, samples, level, method)
    value = detected / samples
    said = f"Detected in {detected} of {samples} samples, {per_100(value)}; the share behind them lies between "
    return Answer(value, f"{said}{per_100(interval.low)} and {per_100(interval.high)} ({interval}).", interval)
