"""Excursions: when readings lay outside two limits, for how long, and how far; facts, never what they mean."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from swabwright.record.readings import SECONDS_A_MINUTE, Readings

Side = Literal["above", "below"]


@dataclass(frozen=True)
class Limits:
    """The lowest and highest temperature of a rulebook, C; a reading on a limit is inside."""

    low_c: float
    high_c: float


@dataclass(frozen=True)
class Excursion:
    """One unbroken time outside a limit; seconds since 1970 UTC, C."""

    side: Side
    limit_c: float
    begins: int
    ends: int
    worst_c: float
    worst_at: int
    began_before: bool
    """Outside already at the first known moment of its run."""
    went_on: bool
    """Outside still at the last known moment of its run."""

    @property
    def minutes(self) -> float:
        """How long it is known to have lasted."""
        return (self.ends - self.begins) / SECONDS_A_MINUTE


def excursions(lines: Sequence[Readings], limits: Limits) -> tuple[Excursion, ...]:
    """Every excursion in unbroken runs of readings, in order; a limit is crossed on the straight line between two."""
    found = [one for line in lines for one in (*_of(line, "above", limits.high_c), *_of(line, "below", limits.low_c))]
    return tuple(sorted(found, key=lambda one: (one.begins, one.side)))


def _of(line: Readings, side: Side, limit_c: float) -> Iterator[Excursion]:
    sign = 1.0 if side == "above" else -1.0
    beyond = [sign * (temperature - limit_c) for temperature in line.temperatures_c]
    first: int | None = None
    for place in range(len(beyond) + 1):
        outside = place < len(beyond) and beyond[place] > 0.0
        if outside and first is None:
            first = place
        elif not outside and first is not None:
            worst = max(range(first, place), key=beyond.__getitem__)
            yield Excursion(
                side,
                limit_c,
                begins=_crossing(line, beyond, first) if first else line.seconds[0],
                ends=_crossing(line, beyond, place) if place < len(beyond) else line.seconds[-1],
                worst_c=line.temperatures_c[worst],
                worst_at=line.seconds[worst],
                began_before=first == 0,
                went_on=place == len(beyond),
            )
            first = None


def _crossing(line: Readings, beyond: list[float], place: int) -> int:
    """The second at which the straight line to the reading at `place` meets the limit."""
    before, after = beyond[place - 1], beyond[place]
    earlier, later = line.seconds[place - 1], line.seconds[place]
    return round(earlier + (later - earlier) * before / (before - after))
