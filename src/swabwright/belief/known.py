"""What is known when a belief is formed: the investigation, the plant, the figures in use, and a bank."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TypeVar, cast

import numpy as np
import numpy.typing as npt

from swabwright.belief.rows import HypothesisRows
from swabwright.case.investigation import Investigation
from swabwright.detection.choices import Setting
from swabwright.detection.items import Item
from swabwright.detection.observed import Observed
from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.figures import Figures
from swabwright.plant.sites import Site
from swabwright.spread.bank import ResponseBank

Array = npt.NDArray[np.float64]
Result = TypeVar("Result")


@dataclass(frozen=True)
class Known:
    """An investigation on a plant with one response bank; its figures can be exchanged for others."""

    investigation: Investigation
    setting: Setting
    bank: ResponseBank
    since: tuple[Observed, ...] = ()
    """Results of visits before this one; the chance of a false detection of each holds that of its batch."""

    @cached_property
    def remembered(self) -> dict[str, tuple[tuple[object, object, object], object]]:
        """What was last worked out from this knowledge, by name: (for what, the result)."""
        return {}

    @property
    def figures(self) -> Figures:
        """The figures in use."""
        return self.setting.figures

    def under(self, figures: Figures) -> "Known":
        """The same knowledge read with other figures; the bank stays as it is."""
        catalogue = replace(self.setting.catalogue, figures=figures)
        since = tuple(replace(one, item=self._recovered(one.item, figures)) for one in self.since)
        return replace(self, setting=replace(self.setting, catalogue=catalogue), since=since)

    def _recovered(self, item: Item, figures: Figures) -> Item:
        """A sample taken before with the recovery of other figures; how much of its own container lived stays."""
        name = f"recovery.{item.wetness}"
        return replace(item, recovery=item.recovery * figures.number(name) / self.figures.number(name))

    def line_index(self, line: str, path: str) -> int:
        """Index of a line in the bank; an unknown line is refused with the path of the fact that names it."""
        if line not in self.bank.lines:
            raise SwabwrightError(f"investigation.json: {path}: no line '{line}'{did_you_mean(line, self.bank.lines)}")
        return self.bank.lines.index(line)

    def site_called(self, code: str, path: str) -> Site:
        """The site with a code; an unknown code is refused with the path of the fact that names it."""
        for site in self.setting.plant.sites:
            if site.code == code:
                return site
        codes = [site.code for site in self.setting.plant.sites]
        raise SwabwrightError(f"investigation.json: {path}: no site '{code}'{did_you_mean(code, codes)}")


@dataclass(frozen=True)
class Fact:
    """One fact and how well each hypothesis row explains it.

    factor: (S,) chance or weight of the fact in each row. unmoved: the factor where nothing reaches what the fact is
    about; a fact that asks for contamination and that no row explains better fits nothing. load, read: where the fact
    hangs on one load, the load of each row, (S,) in CFU, and the factor of any loads; loads of niches add up.
    """

    words: str
    factor: Array
    unmoved: float
    asks_for_contamination: bool
    load: Array | None = None
    read: Callable[[Array], Array] | None = None


def niche_loads(rows: HypothesisRows, log10_capacity: npt.NDArray[np.float32], per_unit: Array) -> Array:
    """Sum over a row's niches of capacity x response per unit of capacity; per_unit is (E, sources), result (S,)."""
    # an absent niche has index -1, which reads the last source; the mask takes it out again
    present = rows.sources >= 0
    history = rows.history[:, None]
    capacity = 10.0 ** log10_capacity[history, rows.sources].astype(np.float64)
    return np.asarray(np.where(present, capacity * per_unit[history, rows.sources], 0.0).sum(axis=1))


def remembering(known: Known, name: str, rows: HypothesisRows, of: object, work: Callable[[], Result]) -> Result:
    """The result of `work`, or the last one when it was asked for the same hypotheses and the same `of`.

    Several figures of a plan read the same samples in the same hypotheses, one after the other. Weights do not count.
    """
    last = known.remembered.get(name)
    if last is not None:
        (history, sources, asked), result = last
        if history is rows.history and sources is rows.sources and asked == of:
            return cast("Result", result)
    result = work()
    known.remembered[name] = ((rows.history, rows.sources, of), result)
    return result
