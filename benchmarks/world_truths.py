"""Truths of the invented world on invented plants, by the line that is suspected; and how a row of them is decided."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from benchmarks.world.plants import make_plant
from benchmarks.world.results import MODES, Shows, reports, shows
from benchmarks.world.truths import Truth, make_visits, signalled_seed
from swabwright.detection.items import Item
from swabwright.inference.calibration import Estimate
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant

ENOUGH = 480
"""Investigations below which nothing is decided."""


@dataclass(frozen=True)
class InventedTruth:
    """A truth on an invented plant at one visit or several, and what the laboratory would report of every site."""

    plant: Plant
    niches: tuple[str, ...]
    """Keys of the sites in which it lives."""
    held: tuple[Shows, ...]
    """At each visit whether a sample of each site and mode holds it, (sites, modes)."""
    reported: tuple[Shows, ...]
    """The same with false positives."""

    def found(self, items: Sequence[Item], told: Shows) -> list[bool]:
        """What these samples show, of one of the tables above."""
        place = {site.key: at for at, site in enumerate(self.plant.sites)}
        return [bool(told[place[item.site_key], MODES.index(item.mode)]) for item in items]


def truths_by_line(
    catalogue: Catalogue, seed: int, sites: int, count: int, *, level: int, visits: int = 1
) -> dict[str, list[InventedTruth]]:
    """So many truths on invented plant number `seed`, by the line that is suspected for their sake."""
    plant = make_plant(catalogue, seed=seed, sites=sites)
    told = defaultdict(list)
    for number in range(count):
        own, line = signalled_seed(plant, catalogue, level=level, seed=seed * 10_000 + number)
        told[line].append(_invented(plant, catalogue, make_visits(plant, catalogue, level, own, visits), own))
    return dict(sorted(told.items()))


def _invented(plant: Plant, catalogue: Catalogue, visits: Sequence[Truth], seed: int) -> InventedTruth:
    def each(table: object) -> Iterator[Shows]:
        return (table(truth, plant, catalogue, seed, visit) for visit, truth in enumerate(visits))  # type: ignore[operator]

    keys = tuple(plant.sites[place].key for place in visits[0].niches)
    return InventedTruth(plant, keys, tuple(each(shows)), tuple(each(reports)))


def decided(one: Estimate, tolerance: float) -> bool:
    """Whether an estimate may be judged: enough investigations, the error at most a third of the tolerance."""
    return one.count >= ENOUGH and bool(np.isfinite(one.error)) and one.error <= tolerance / 3


def percent(one: Estimate) -> str:
    """An estimate in 100 with its error."""
    return f"{100 * one.value:.1f} (error {100 * one.error:.1f})"
