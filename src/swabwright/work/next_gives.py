"""What a choice of samples would give, told on histories that did not choose it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np

from swabwright.belief.estimate import basis_of, chance, chance_of_finding, chance_of_hitting
from swabwright.case.next_visit import Bits, WayGives
from swabwright.case.plan import Chance
from swabwright.detection.items import Item
from swabwright.inference.claims import claims
from swabwright.inference.foreseen import foreseen_chances
from swabwright.inference.information import Informed, Picked, Settings
from swabwright.inference.labels import Labels
from swabwright.inference.outcome_paths import foreseen
from swabwright.work.chosen import Chosen
from swabwright.work.judged import at_arrival
from swabwright.work.next_choices import Way, labels_in
from swabwright.work.opened import OpenVisit
from swabwright.work.simulated import Simulated

Z_10_90 = 1.2816
WORDS: dict[Way, str] = {
    "information": "What says most about where it lives",
    "find_any": "Find it anywhere",
    "hit_the_niche": "Hit the niche itself",
    "around_a_positive": "Samples around a positive",
}


@dataclass(frozen=True)
class Told:
    """What the samples of one way say one after the other, and what they give together."""

    gives: WayGives
    items: tuple[Item, ...]
    each: tuple[Bits, ...]
    """Of each sample after those before it."""
    detected: tuple[Chance, ...]


class Teller:
    """Tells what choices give, on the hypotheses of one bank after the results."""

    def __init__(self, opened: OpenVisit, reports: Simulated) -> None:
        self._opened, self._reports = opened, reports
        self.labels: Labels = labels_in(opened, reports)
        figures = opened.figures
        self._paths, self._shuffles = (round(figures.number(f"next.{name}")) for name in ("paths_told", "shuffles"))
        self._claim = figures.number("inference.claim")
        names = {site.key for site in opened.case.plant.sites}
        self._sites = np.array([name in names for name in reports.belief.known.bank.source_names])
        self._basis = (
            f"{self._paths} outcomes drawn from {len(reports.belief.rows):,} hypotheses, "
            f"bank {reports.belief.known.bank.bank}; given at most two niches, if the model holds"
        )

    @property
    def open_bits(self) -> Bits:
        """What is open about where it lives."""
        value = self.labels.bits(self._reports.belief.rows.weight)
        return Bits(value=value, low=value, high=value, basis=f"{self.labels.count} sets of niches told apart")

    def told(self, way: Way, chosen: Chosen, first: Sequence[str] = ()) -> Told:
        """What a choice gives; first: codes of sites whose samples come first, in this order."""
        belief, living = self._reports.belief, self._reports.living
        items = _in_order(at_arrival(chosen, self._reports), first)
        table = foreseen_chances(belief.known, belief.rows, items)
        keys = (np.arange(len(items), dtype=np.int32), _ties(chosen, items))
        what = foreseen(table, belief.rows.weight, self.labels, keys, self._opened.case.investigation.seed)
        informed = Informed(what, Settings(self._paths, self._shuffles, 0.0))
        each = informed.chain(range(len(items)))
        settled = claims(what, informed.paths.after(range(len(items))), informed.paths.true_row, belief.rows.sources,
                         (self._claim, self._sites))  # fmt: skip
        gives = WayGives(
            way=way,
            words=WORDS[way],
            sites=tuple(item.site_code for item in items),
            bits=self.summed(each),
            chance_of_finding=chance_of_finding(living, items),
            chance_of_hitting=chance_of_hitting(living, items),
            chance_of_a_claim=self._of_outcomes(settled.claimed),
            of_it_right=self._of_outcomes(settled.claimed_and_right),
        )
        detected = tuple(chance(row.astype(np.float64), belief.rows, basis_of(belief)) for row in table)
        return Told(gives, items, tuple(self.summed([one]) for one in each), detected)

    def summed(self, each: Sequence[Picked]) -> Bits:
        """Bits of several samples one after the other, never below none."""
        value = sum(one.bits.value for one in each)
        error = Z_10_90 * sqrt(sum(one.bits.error**2 for one in each))
        return Bits(
            value=max(0.0, value), low=max(0.0, value - error), high=max(0.0, value + error),
            basis=f"range 10 to 90 in 100 of what names without meaning would seem to say; {self._basis}",
        )  # fmt: skip

    def _of_outcomes(self, share: float) -> Chance:
        error = Z_10_90 * sqrt(max(share * (1.0 - share), 1.0 / self._paths) / self._paths)
        return Chance(
            value=share, low=max(0.0, share - error), high=min(1.0, share + error),
            basis=f"range 10 to 90 in 100 of the drawn outcomes only; {self._basis}",
        )  # fmt: skip


def _in_order(items: tuple[Item, ...], first: Sequence[str]) -> tuple[Item, ...]:
    order = {code: place for place, code in enumerate(first)}
    return tuple(sorted(items, key=lambda item: order.get(item.site_code, len(order))))


def _ties(chosen: Chosen, items: Sequence[Item]) -> np.ndarray[tuple[int], np.dtype[np.uint64]]:
    tie = {item.site_key: chosen.problem.tie[place]
           for place, item in zip(chosen.choice.items, chosen.items, strict=True)}  # fmt: skip
    return np.array([tie[item.site_key] for item in items], np.uint64)
