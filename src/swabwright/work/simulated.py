"""What the histories of one bank say about a visit before any sample: a belief, and what could be sampled."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from swabwright.belief.believe import Belief, believe
from swabwright.belief.known import Known
from swabwright.belief.spread_of import why_uncertain
from swabwright.compute.cache import ResultCache
from swabwright.detection.choices import build_items
from swabwright.detection.items import Item
from swabwright.spread.bank import BankName, ResponseBank
from swabwright.spread.build import Workshop, build_bank
from swabwright.work.opened import OpenVisit


@dataclass(frozen=True)
class Simulated:
    """A belief on one bank, and every item of the visit on it."""

    belief: Belief
    """Incoming material alone included."""
    items: tuple[Item, ...]

    @property
    def living(self) -> Belief:
        """Given that it lives in this plant, drawn or not."""
        return self.belief.living


def simulate(
    opened: OpenVisit,
    bank: BankName,
    cache_folder: Path | None,
    say: Callable[[str], None],
    *,
    more: bool = False,
    histories: int | None = None,
) -> Simulated:
    """The belief on a bank of simulated histories; facts that no hypothesis explains are refused by name.

    more: take as many histories as a bank may have, because the facts leave too few of the usual number for a range.
    histories: exactly so many instead; those already kept are not computed again.
    """
    responses = simulated_bank(
        opened, bank, cache_folder, say, histories=histories or usual_histories(opened, more=more)
    )
    known = Known(opened.case.investigation, opened.setting, responses)
    belief = believe(known, round(opened.figures.number("planning.rows")))
    return Simulated(belief, build_items(opened.setting, responses))


def usual_histories(opened: OpenVisit, *, more: bool = False) -> int:
    """Histories that a bank has when nobody asks for a number; more: as many as it may have."""
    return round(opened.figures.number("planning.most_histories" if more else "planning.histories"))


def simulated_bank(
    opened: OpenVisit, bank: BankName, cache_folder: Path | None, say: Callable[[str], None], *, histories: int
) -> ResponseBank:
    """A bank of so many histories of an opened visit; blocks already in the cache are not computed again."""
    say(f"Simulating {histories:,} histories, bank {bank}")
    workshop = Workshop(cache=None if cache_folder is None else ResultCache(cache_folder))
    return build_bank(opened.bank_setting, bank=bank, histories=histories, workshop=workshop)


def lacks_histories(simulated: Simulated) -> bool:
    """Whether the facts leave too few histories of a bank for a range."""
    return why_uncertain(simulated.living.rows) is not None
