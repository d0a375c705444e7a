"""Choice problems of whole invented plants: histories simulated, rows drawn, cells of every item, on two banks."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from benchmarks.world.plants import make_plant
from swabwright.case.folder import Case
from swabwright.case.investigation import Investigation, Limits, Presence, Visit
from swabwright.planning.problem import Problem
from swabwright.planning.walk_controls import Shares
from swabwright.plant.catalogue import Catalogue
from swabwright.spread.bank import BankName
from swabwright.work.opened import OpenVisit, open_visit
from swabwright.work.samples_problem import samples_problem
from swabwright.work.simulated import Simulated, simulate

MINUTES_A_SAMPLE = 6.5
MORNING = datetime(2026, 3, 16, 8, tzinfo=UTC)
EVENING = datetime(2026, 3, 16, 16, tzinfo=UTC)


@dataclass(frozen=True)
class InventedVisit:
    """A first visit to an invented plant, nothing known before, its beliefs on two banks of histories."""

    opened: OpenVisit
    planning: Simulated
    held_out: Simulated

    def problem(self, count: int, on: BankName = "A") -> Problem:
        """Choose so many samples in 6.5 minutes each, walking left out, on the rows of one bank."""
        simulated = self.planning if on == "A" else self.held_out
        shares = Shares(surface=count, blanks=0, duplicates=0, judgement=0)
        return samples_problem(self.opened, simulated, shares, MINUTES_A_SAMPLE * count)


def invented_visit(catalogue: Catalogue, seed: int, sites: int, cache: Path | None = None) -> InventedVisit:
    """The visit to invented plant number `seed` with so many sites."""
    opened = investigated_plant(catalogue, seed, sites)
    quiet: Callable[[str], None] = lambda _line: None  # noqa: E731
    return InventedVisit(opened, simulate(opened, "A", cache, quiet), simulate(opened, "B", cache, quiet))


def investigated_plant(catalogue: Catalogue, seed: int, sites: int) -> OpenVisit:
    """The first visit to invented plant number `seed`, opened, nothing simulated yet."""
    plant = make_plant(catalogue, seed=seed, sites=sites)
    investigation = _investigation(seed)
    case = Case(Path(), investigation, plant, catalogue, "", None, ())
    return open_visit(case, investigation.visits[0])


def _investigation(seed: int) -> Investigation:
    limits = Limits(
        samples=40,
        starts_at=MORNING,
        ends_at=EVENING,
        people_per_team=2,
        laboratory_takes=100,
        zone_minimums={"1": 2, "2": 2, "3": 2},
    )
    visit = Visit(
        id="visit-1",
        name="First visit",
        lead="invented",
        limits=limits,
        medium="neutralising_buffer",
        hours_to_laboratory=6.0,
        transport_temperature_c=4.0,
    )
    return Investigation(
        format="swabwright/investigation",
        version=1,
        name=f"Invented investigation {seed}",
        reference=f"invented-{seed}",
        agency="invented",
        organism="listeria_monocytogenes",
        signal_on=MORNING.date(),
        seed=seed,
        presence=Presence(lives_here=0.5, set_by="invented"),
        visits=(visit,),
    )
