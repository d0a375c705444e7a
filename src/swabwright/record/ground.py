"""What the plant's document says of its sites that a record is held against: zone, line, and what must stand."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, tzinfo

from swabwright.plant.sites import Stop


@dataclass(frozen=True)
class SiteAsks:
    """One site: its hygiene zone, the line it belongs to, and what sampling it asks for."""

    zone: int
    line: str | None
    as_is: Stop
    opened: Stop

    def stop(self, *, opened_up: bool) -> Stop:
        """What must stand still when it is sampled so."""
        return self.opened if opened_up else self.as_is


@dataclass(frozen=True)
class Ground:
    """Sites by code, hours of the visits, and what else the plant's document names; empty when no plant is known."""

    sites: Mapping[str, SiteAsks] = field(default_factory=dict)
    visits: tuple[tuple[datetime, datetime], ...] = ()
    zone: tzinfo | None = None
    lines: frozenset[str] = frozenset()
    machines: frozenset[str] = frozenset()
    rooms: frozenset[str] = frozenset()

    def day(self, moment: datetime) -> date:
        """The day at the plant; the day as it was written where the plant's time zone is not known."""
        return (moment.astimezone(self.zone) if self.zone else moment).date()

    def together(self, one: datetime, other: datetime) -> bool:
        """Whether two moments lie on one day at the plant, or within the hours of one visit that runs past midnight."""
        within_one = any(begins <= min(one, other) and max(one, other) <= ends for begins, ends in self.visits)
        return within_one or self.day(one) == self.day(other)


UNKNOWN_GROUND = Ground()
"""No plant: any line's answer about product counts, and no stop is asked for."""
