"""Readings of one logger in order of time, and the stretches in which the temperature is known."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import median

from swabwright.errors import SwabwrightError

SECONDS_A_MINUTE = 60.0


@dataclass(frozen=True)
class Stretch:
    """A stretch of time, in whole seconds since 1970 UTC."""

    begins: int
    ends: int

    @property
    def minutes(self) -> float:
        """How long it lasts."""
        return (self.ends - self.begins) / SECONDS_A_MINUTE


@dataclass(frozen=True)
class Readings:
    """Whole seconds since 1970 UTC, rising, and the temperature in C at each; straight lines between them."""

    seconds: tuple[int, ...] = ()
    temperatures_c: tuple[float, ...] = ()

    @property
    def usual_interval_seconds(self) -> float | None:
        """The middle one of all steps between readings; None with fewer than two."""
        steps = [later - earlier for earlier, later in pairwise(self.seconds)]
        return median(steps) if steps else None

    def gaps(self, gap_intervals: float) -> tuple[Stretch, ...]:
        """Where more than so many usual intervals lie between two readings: not known there."""
        usual = self.usual_interval_seconds
        if usual is None:
            return ()
        return tuple(Stretch(*step) for step in pairwise(self.seconds) if step[1] - step[0] > gap_intervals * usual)


def joined(parts: Sequence[Readings]) -> Readings:
    """The readings of several files of one logger in order; two temperatures at one moment are refused."""
    found: dict[int, float] = {}
    for part in parts:
        for at, temperature in zip(part.seconds, part.temperatures_c, strict=True):
            if found.setdefault(at, temperature) != temperature:
                raise SwabwrightError(
                    f"two files give {found[at]:.1f} °C and {temperature:.1f} °C for one moment of one logger; "
                    "supersede the entry of the file that is not its own"
                )
    return Readings(*zip(*sorted(found.items()), strict=True)) if found else Readings()


def known_lines(readings: Readings, window: Stretch, gap_intervals: float) -> tuple[Readings, ...]:
    """The unbroken runs of readings inside a window, straight lines cut at its ends; a lone reading is a run of one."""
    breaks = {gap.ends for gap in readings.gaps(gap_intervals)}
    runs: list[list[tuple[int, float]]] = []
    for reading in zip(readings.seconds, readings.temperatures_c, strict=True):
        if not runs or reading[0] in breaks:
            runs.append([])
        runs[-1].append(reading)
    cut = [_cut(run, window) for run in runs]
    return tuple(Readings(*zip(*run, strict=True)) for run in cut if run)


def not_known(lines: Sequence[Readings], window: Stretch) -> tuple[Stretch, ...]:
    """The stretches of a window that no run covers."""
    edges = [window.begins, *(end for line in lines for end in (line.seconds[0], line.seconds[-1])), window.ends]
    return tuple(Stretch(begins, ends) for begins, ends in zip(edges[::2], edges[1::2], strict=True) if ends > begins)


def _cut(run: list[tuple[int, float]], window: Stretch) -> list[tuple[int, float]]:
    inside = [reading for reading in run if window.begins <= reading[0] <= window.ends]
    for earlier, later in pairwise(run):
        for edge in (window.begins, window.ends):
            if earlier[0] < edge < later[0]:
                share = (edge - earlier[0]) / (later[0] - earlier[0])
                inside.append((edge, earlier[1] + share * (later[1] - earlier[1])))
    return sorted(inside)
