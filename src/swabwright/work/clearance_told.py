"""Everything that a clearance document is composed of."""

from collections.abc import Sequence
from dataclasses import dataclass

from swabwright.case.clearance import Gone
from swabwright.case.investigation import Visit
from swabwright.record.entry import Entry
from swabwright.work.clearance_actions import ActionDone
from swabwright.work.clearance_ahead import Ahead, Standing
from swabwright.work.clearance_read import Begun
from swabwright.work.observed_strains import Strain
from swabwright.work.opened import OpenVisit


@dataclass(frozen=True)
class Told:
    """A case read for clearance: its actions, what is believed after each round, and the rounds to come."""

    opened: OpenVisit
    entries: tuple[Entry, ...]
    strain: Strain
    """Which strain was read."""
    others: tuple[Strain, ...]
    """The strains that are read in documents of their own."""
    left_out: tuple[str, ...]
    """Results that were not read, and why."""
    actions: tuple[ActionDone, ...]
    begun: Begun
    standings: tuple[Standing, ...]
    """Before any round, and after each."""
    ahead: Ahead | None
    coming: Sequence[Visit]

    @property
    def now(self) -> Gone:
        """The chance as things stand."""
        return self.standings[-1].gone

    @property
    def unseen(self) -> tuple[ActionDone, ...]:
        """Actions that count and that only the plant has seen."""
        return tuple(one for one in self.begun.course.actions if not one.seen)
