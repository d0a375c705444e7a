"""A series of temperatures: readings of a logger, straight lines between them."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import isfinite
from typing import Self

import numpy as np

from swabwright.detection.statistics.arrays import Array
from swabwright.errors import DocumentRefused, Fault


@dataclass(frozen=True)
class TemperatureSeries:
    """Readings in order of time; hours from any zero, temperatures in C."""

    hours: tuple[float, ...]
    temperatures_c: tuple[float, ...]

    def __post_init__(self) -> None:
        faults = list(self._faults())
        if faults:
            raise DocumentRefused("temperatures", faults)

    @classmethod
    def of(cls, readings: Iterable[tuple[float, float]]) -> Self:
        """A series from pairs of hours and temperature."""
        pairs = tuple(readings)
        return cls(tuple(hours for hours, _ in pairs), tuple(temperature for _, temperature in pairs))

    def _faults(self) -> Iterable[Fault]:
        if len(self.hours) != len(self.temperatures_c):
            yield Fault("", f"{len(self.hours)} times for {len(self.temperatures_c)} temperatures; give one for each")
        if len(self.hours) < 2:
            yield Fault("", "fewer than two readings; a series needs a beginning and an end")
        for number, (hours, temperature) in enumerate(zip(self.hours, self.temperatures_c, strict=False)):
            if not (isfinite(hours) and isfinite(temperature)):
                yield Fault(f"readings[{number}]", f"{hours:g} h, {temperature:g} C is not a reading; leave it out")
            elif number and hours <= self.hours[number - 1]:
                before = self.hours[number - 1]
                yield Fault(
                    f"readings[{number}]", f"{hours:g} h is not later than {before:g} h; sort, or drop the double"
                )

    def pieces(self, kinks_c: tuple[float, ...]) -> tuple[Array, Array, Array]:
        """Lengths in hours, first and last temperatures of pieces of line between which no kink is crossed."""
        hours, temperatures = np.asarray(self.hours), np.asarray(self.temperatures_c)
        slope = np.diff(temperatures) / np.diff(hours)
        # A level line crosses nothing: its crossing is infinite or undefined, and neither lies inside.
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            crossings = hours[:-1] + (np.array(kinks_c)[:, None] - temperatures[:-1]) / slope
            inside = crossings[(crossings > hours[:-1]) & (crossings < hours[1:])]
        edges = np.unique(np.concatenate([hours, inside]))
        at_edges = np.interp(edges, hours, temperatures)
        return np.diff(edges), at_edges[:-1], at_edges[1:]
