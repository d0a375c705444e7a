"""Growth rate by temperature: the square-root model and the cardinal model."""

from dataclasses import dataclass
from typing import Protocol

import numpy as np

from swabwright.detection.statistics.arrays import Array
from swabwright.errors import SwabwrightError


class GrowthModel(Protocol):
    """How fast an organism grows at a temperature."""

    @property
    def kinks_c(self) -> tuple[float, ...]:
        """Temperatures at which the curve has a kink; between them it is smooth."""
        ...

    def rate(self, temperature_c: Array) -> Array:
        """log10 per day at each temperature, never below 0."""
        ...


@dataclass(frozen=True)
class SquareRoot:
    """The square root of the rate rises in a straight line from the minimum temperature.

    slope: square root of log10 per day, per C. minimum_c: no growth at or below. warmest_c: growth is taken not to rise
    beyond. Source: Ratkowsky, Olley, McMeekin and Ball, J Bacteriol 1982;149:1-5 (which gives no upper end; holding the
    rate there is ours).
    """

    slope: float
    minimum_c: float
    warmest_c: float

    def __post_init__(self) -> None:
        _rising("square-root model", self.slope, self.minimum_c, self.warmest_c)

    @property
    def kinks_c(self) -> tuple[float, ...]:
        """Where growth begins and where it stops rising."""
        return self.minimum_c, self.warmest_c

    def rate(self, temperature_c: Array) -> Array:
        """log10 per day: (slope x degrees above the minimum) squared."""
        above = np.clip(temperature_c, self.minimum_c, self.warmest_c) - self.minimum_c
        rate: Array = (self.slope * above) ** 2
        return rate


@dataclass(frozen=True)
class Cardinal:
    """The rate rises from a minimum temperature to an optimum and falls to nothing at a maximum, with an inflection.

    rate_at_optimum: log10 per day. Temperatures in C, minimum < optimum < maximum. Source: Rosso, Lobry and Flandrois,
    J Theor Biol 1993;162:447-463.
    """

    rate_at_optimum: float
    minimum_c: float
    optimum_c: float
    maximum_c: float

    def __post_init__(self) -> None:
        _rising("cardinal model", self.rate_at_optimum, self.minimum_c, self.optimum_c, self.maximum_c)
        if 2 * self.optimum_c < self.minimum_c + self.maximum_c:
            raise SwabwrightError(
                f"cardinal model: the optimum {self.optimum_c:g} C is nearer to the minimum than to the maximum; "
                "the curve is not defined there"
            )

    @property
    def kinks_c(self) -> tuple[float, ...]:
        """Where growth begins and where it ends."""
        return self.minimum_c, self.maximum_c

    def rate(self, temperature_c: Array) -> Array:
        """log10 per day, 0 outside minimum to maximum."""
        # At both ends the formula itself is 0; beyond them it would rise again or turn negative.
        t = np.clip(temperature_c, self.minimum_c, self.maximum_c)
        span = self.optimum_c - self.minimum_c
        above = (t - self.maximum_c) * (t - self.minimum_c) ** 2
        toward = span * (t - self.optimum_c)
        toward -= (self.optimum_c - self.maximum_c) * (self.optimum_c + self.minimum_c - 2 * t)
        rate: Array = self.rate_at_optimum * above / (span * toward)
        return rate


def _rising(model: str, height: float, *temperatures_c: float) -> None:
    if not (np.isfinite(height) and height > 0):
        raise SwabwrightError(f"{model}: {height:g} must be a finite number above 0")
    if not np.all(np.isfinite(temperatures_c)) or np.any(np.diff(temperatures_c) <= 0):
        said = ", ".join(f"{one:g}" for one in temperatures_c)
        raise SwabwrightError(f"{model}: its temperatures must rise, not {said}")
