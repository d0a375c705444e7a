"""One truth: where it lives, and how many cells lie where at the visit. Whole cells, one event at a time."""

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from benchmarks.world.contacts import Contact, contacts
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant

DAYS = 12
SLOTS_A_DAY = 3
RUNNING_SLOT = 1
CLEANED_SLOT = 2
SUSPECTED_DAYS = range(5, 10)
"""The visit is on day 12; the working days of the week before."""
DAYS_BETWEEN = 7
"""Between one visit and the next."""
Cells = npt.NDArray[np.int64]
Seen = tuple[Cells, Cells, dict[str, int]]


@dataclass(frozen=True)
class Truth:
    """What nobody in the plant knows: niches, their cells, the cells on every site, and the level of surprise."""

    level: int
    niches: tuple[int, ...]
    """Indices into `plant.sites`."""
    niche_cells: Cells
    """Cells inside the niche of each site, 0 where there is none."""
    surface_cells: Cells
    product_cells: dict[str, int] = field(default_factory=dict)
    """Cells that each line's product carried off on the suspected days, by line."""


def numbers() -> dict[str, Any]:
    """The numbers of the invented world."""
    with (Path(__file__).parent / "world.toml").open("rb") as file:
        return tomllib.load(file)


def make_truth(plant: Plant, catalogue: Catalogue, *, level: int, seed: int) -> Truth:
    """A truth for this plant; the same seed and level give the same truth."""
    return make_visits(plant, catalogue, level, seed)[0]


def make_visits(plant: Plant, catalogue: Catalogue, level: int, seed: int, visits: int = 1) -> tuple[Truth, ...]:
    """One truth as it is at several visits, a week apart; nothing is done about it between them."""
    figures = numbers()
    random = np.random.default_rng([seed, level])
    bend = figures["levels"][level]
    niches = _niches(plant, catalogue, figures["niche"]["number"], bend, random)
    pool = np.zeros(len(plant.sites), dtype=np.int64)
    capacity = 10 ** random.normal(
        figures["niche"]["log10_capacity_median"], figures["niche"]["log10_capacity_sd"], len(plant.sites)
    )
    start = random.uniform(figures["niche"]["start_low"], figures["niche"]["start_high"], len(plant.sites))
    pool[list(niches)] = (capacity * start)[list(niches)].astype(np.int64)
    run = _Run(figures, contacts(plant, figures["contacts"], bend, random), capacity, random)
    seen = (pool, np.zeros(len(plant.sites), dtype=np.int64), dict.fromkeys((line.id for line in plant.lines), 0))
    return tuple(Truth(level, niches, *one) for one in _seen(plant, run, seen, visits))


def _seen(plant: Plant, run: "_Run", begun: Seen, visits: int) -> Iterator[Seen]:
    """Cells in niches, on surfaces and so far in product at each visit."""
    pool, surface, product = begun
    last = DAYS + DAYS_BETWEEN * (visits - 1)
    for slot in range(last * SLOTS_A_DAY + RUNNING_SLOT + 1):
        day, turn = divmod(slot, SLOTS_A_DAY)
        pool, surface = run.step(pool, surface, turn)
        if day in SUSPECTED_DAYS and turn == RUNNING_SLOT:
            surface = run.carried_off(plant, surface, product)
        if day >= DAYS and (day - DAYS) % DAYS_BETWEEN == 0 and turn == RUNNING_SLOT:
            yield pool, surface, dict(product)


def make_signalled_truth(plant: Plant, catalogue: Catalogue, *, level: int, seed: int) -> tuple[Truth, str]:
    """A truth for whose sake somebody fell ill, and the line that is suspected: as likely as its product was loaded."""
    own, line = signalled_seed(plant, catalogue, level=level, seed=seed)
    return make_truth(plant, catalogue, level=level, seed=own), line


def signalled_seed(plant: Plant, catalogue: Catalogue, *, level: int, seed: int) -> tuple[int, str]:
    """The seed of such a truth, and its suspected line."""
    half = numbers()["signal"]["half_cells"]
    random = np.random.default_rng([seed, level, 2])
    while True:
        own = int(random.integers(2**62))
        cells = make_truth(plant, catalogue, level=level, seed=own).product_cells
        line = list(cells)[int(random.integers(len(cells)))]
        if random.random() < cells[line] / (cells[line] + half):
            return own, line


def _niches(
    plant: Plant, catalogue: Catalogue, shares: list[float], bend: dict[str, float], random: np.random.Generator
) -> tuple[int, ...]:
    weight = np.array([catalogue.figures.number(f"site_type.{site.type}.cleaning_difficulty") for site in plant.sites])
    weight *= np.exp(bend["prior_ln_sd"] * random.standard_normal(len(weight)))
    weight = (1 - bend["uniform"]) * weight / weight.sum() + bend["uniform"] / len(weight)
    count = 1 + int(random.choice(len(shares), p=shares))
    return tuple(int(place) for place in random.choice(len(weight), size=count, replace=False, p=weight))


class _Run:
    """The clock of one truth: shedding, contact, cleaning, dying, in whole cells."""

    def __init__(
        self,
        figures: dict[str, Any],
        moved_by: list[Contact],
        capacity: npt.NDArray[np.float64],
        random: np.random.Generator,
    ) -> None:
        self._niche, self._surface = figures["niche"], figures["surface"]
        self._contacts, self._capacity, self._random = moved_by, capacity, random
        size = len(capacity)
        self._carried = figures["signal"]["carried_off"]
        low, high = self._surface["cleaning_log10_low"], self._surface["cleaning_log10_high"]
        self._reduction = random.uniform(low, high, size)
        self._shed = np.exp(self._niche["shed_ln_median"] + self._niche["shed_ln_sd"] * random.standard_normal(size))

    def step(self, pool: Cells, surface: Cells, slot: int) -> tuple[Cells, Cells]:
        """The cells in niches and on surfaces 8 hours later."""
        shed = self._random.binomial(pool, np.minimum(0.5, self._shed))
        pool, surface = self._grown(pool - shed), surface + shed
        if slot == RUNNING_SLOT:
            surface = self._contacted(surface)
        if slot == CLEANED_SLOT:
            surface = self._cleaned(surface)
        kept = 10 ** -self._surface["die_off_log10_per_8h"]
        return pool, self._random.binomial(surface, kept)

    def carried_off(self, plant: Plant, surface: Cells, product: dict[str, int]) -> Cells:
        """What is left after product took its share from what it touches; what it took is added to its line."""
        surface = surface.copy()
        for place, site in enumerate(plant.sites):
            if site.line is not None and site.zone == 1 and surface[place] > 0:
                taken = int(self._random.binomial(surface[place], self._carried))
                surface[place] -= taken
                product[site.line] += taken
        return surface

    def _grown(self, pool: Cells) -> Cells:
        level = pool / self._capacity
        born = self._random.poisson(np.maximum(0.0, self._niche["growth_per_8h"] * pool * (1 - level)))
        return np.minimum(pool + born, self._capacity.astype(np.int64))

    def _contacted(self, surface: Cells) -> Cells:
        surface = surface.copy()
        order = self._random.permutation(len(self._contacts))
        for contact in (self._contacts[place] for place in order):
            if surface[contact.source] == 0:
                continue
            for _ in range(self._random.poisson(contact.rate)):
                size = np.exp(self._surface["event_size_ln_sd"] * self._random.standard_normal())
                moved = self._random.binomial(surface[contact.source], min(0.5, contact.fraction * size))
                surface[contact.source] -= moved
                surface[contact.target] += moved
        return surface

    def _cleaned(self, surface: Cells) -> Cells:
        fails = self._random.random(len(surface)) < self._surface["cleaning_fails"]
        reduction = np.where(fails, self._surface["fails_to"], 1.0) * self._reduction
        return self._random.binomial(surface, 10**-reduction)
