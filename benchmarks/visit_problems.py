"""Choice problems of whole invented plants: histories simulated, rows drawn, cells of every item, on two banks."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from benchmarks.world.investigations import invented_investigation
from benchmarks.world.plants import make_plant
from swabwright.case.folder import Case
from swabwright.case.investigation import Investigation
from swabwright.planning.problem import Problem
from swabwright.planning.walk_controls import Shares
from swabwright.plant.catalogue import Catalogue
from swabwright.spread.bank import BankName
from swabwright.work.opened import OpenVisit, open_visit
from swabwright.work.samples_problem import samples_problem
from swabwright.work.simulated import Simulated, simulate

MINUTES_A_SAMPLE = 6.5


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


def investigated_plant(catalogue: Catalogue, seed: int, sites: int, line: str | None = None) -> OpenVisit:
    """The first visit to invented plant number `seed`, opened, nothing simulated yet; a line may be suspected."""
    case = invented_case(catalogue, seed, sites, invented_investigation(seed, line))
    return open_visit(case, case.investigation.visits[0])


def invented_case(catalogue: Catalogue, seed: int, sites: int, investigation: Investigation) -> Case:
    """An investigation of invented plant number `seed`, as if it had been read from a folder."""
    plant = make_plant(catalogue, seed=seed, sites=sites)
    return Case(Path(), investigation, plant, catalogue, "", None, ())
