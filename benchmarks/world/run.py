"""The clock of one truth: growing, shedding, contact, product, cleaning and dying, in whole cells."""

from collections.abc import Sequence
from math import expm1, log

import numpy as np
import numpy.typing as npt

from benchmarks.world.contacts import Contact
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.effective import effective_site

HALF_MOST = 0.5
"""One event moves at most this share."""
RUNNING_HOURS, EIGHT = 8.0, 8.0
ORGANISM = "organism.listeria_monocytogenes"
Cells = npt.NDArray[np.int64]
Array = npt.NDArray[np.float64]


class Run:
    """The cells in niches (`pool`) and on surfaces of every site, moved on part of a day at a time."""

    def __init__(
        self, plant: Plant, catalogue: Catalogue, moved_by: Sequence[Contact], random: np.random.Generator
    ) -> None:
        figures, count = catalogue.figures, len(plant.sites)
        self.pool, self.surface = (np.zeros(count, np.int64) for _ in range(2))
        self._plant, self._figures, self._random, self._contacts = plant, figures, random, list(moved_by)
        self._founded: dict[int, list[int]] = {}
        sites = [effective_site(site, catalogue) for site in plant.sites]
        kinds = [one.type.id for one in sites]
        capacity_sd = figures.number("capacity.log10_sd")
        self._capacity = 10 ** (self._of(kinds, "log10_capacity_cfu") + capacity_sd * random.standard_normal(count))
        shedding = np.exp(figures.number("history.shedding_ln_sd") * random.standard_normal(count))
        self._shed = -np.log1p(-self._of(kinds, "shed_fraction_per_8h")) * shedding
        cleaning = np.exp(figures.number("history.cleaning_ln_sd") * random.standard_normal())
        self._reduction = self._of(kinds, "cleaning_log10_reduction") * cleaning
        rooms = {room.id: room.temperature_c for room in plant.rooms}
        growing = np.exp(figures.number("history.growth_ln_sd") * random.standard_normal())
        self._growth = np.array([_growth_ln_8h(rooms[site.room], catalogue) for site in plant.sites]) * growing
        dying = np.exp(figures.number("history.die_off_ln_sd") * random.standard_normal())
        self._dies = (
            np.array([figures.number(f"{ORGANISM}.die_off_log10_per_8h_{one.wetness}") for one in sites]) * dying
        )
        self._lands = np.array([figures.number(f"{ORGANISM}.fast_survival_{one.wetness}") for one in sites])

    def _of(self, kinds: Sequence[str], name: str) -> Array:
        return np.array([self._figures.number(f"site_type.{kind}.{name}") for kind in kinds])

    def found(self, niches: Sequence[int], days: Sequence[int]) -> None:
        """Say when each niche is founded."""
        for niche, day in zip(niches, days, strict=True):
            self._founded.setdefault(day, []).append(niche)

    def take_out(self) -> None:
        """Remove every niche; what lies on surfaces stays."""
        self.pool[:] = 0
        self._founded.clear()

    def morning(self, day: int, product: dict[str, int]) -> None:
        """From the start of the lines to the hour of a visit."""
        self._settle(day)
        self._running(self._figures.number("rule.hours_after_line_start"), product)

    def afternoon(self, product: dict[str, int]) -> None:
        """The rest of the shift."""
        self._running(RUNNING_HOURS - self._figures.number("rule.hours_after_line_start"), product)

    def night(self, *, cleaned: bool) -> None:
        """Cleaning after a shift, and two thirds of a day in which nothing runs."""
        if cleaned:
            failed = self._random.random(len(self.surface)) < self._figures.number("cleaning.failure_share")
            part = np.where(failed, self._figures.number("cleaning.failed_part"), 1.0)
            self.surface = self._random.binomial(self.surface, 10.0 ** -(part * self._reduction))
        hours = 24.0 - (RUNNING_HOURS if cleaned else 0.0)
        self._grow(hours)
        self._die(hours)

    def _settle(self, day: int) -> None:
        low, high = (self._figures.number(f"history.start_level_{end}") for end in ("low", "high"))
        for start in [begun for begun in self._founded if begun <= day]:
            for niche in self._founded.pop(start):
                self.pool[niche] = int(self._capacity[niche] * self._random.uniform(low, high))

    def _running(self, hours: float, product: dict[str, int]) -> None:
        part = hours / EIGHT
        shed = self._random.binomial(self.pool, -np.expm1(-self._shed * part))
        self.pool = self.pool - shed
        self.surface = self.surface + self._random.binomial(shed, self._lands)
        self._touch(part)
        self._carry_off(part, product)
        self._grow(hours)
        self._die(hours)

    def _touch(self, part: float) -> None:
        for place in self._random.permutation(len(self._contacts)):
            contact = self._contacts[place]
            if self.surface[contact.source] > 0:
                for _ in range(self._random.poisson(contact.rate * part)):
                    self._event(contact)

    def _event(self, contact: Contact) -> None:
        size = np.exp(self._figures.number("history.event_size_ln_sd") * self._random.standard_normal())
        share = min(HALF_MOST, contact.fraction * size)
        moved = int(self._random.binomial(self.surface[contact.source], share))
        if moved == 0:
            return
        self.surface[contact.source] -= moved
        where = np.append(contact.shares, max(0.0, 1.0 - contact.shares.sum()))
        # an event that reaches one target takes all it moved there, or onto what nobody drew
        landed = self._random.multinomial(moved if contact.together else 1, where / where.sum())[:-1]
        landed = landed if contact.together else landed * moved
        np.add.at(self.surface, contact.targets, self._random.binomial(landed, self._lands[contact.targets]))

    def _carry_off(self, part: float, product: dict[str, int]) -> None:
        share = -expm1(-self._figures.number("product.carry_off_ln_per_8h") * part)
        for place, site in enumerate(self._plant.sites):
            if site.line is not None and site.zone == 1 and self.surface[place] > 0:
                taken = int(self._random.binomial(self.surface[place], share))
                self.surface[place] -= taken
                product[site.line] += taken

    def _grow(self, hours: float) -> None:
        level = self.pool / self._capacity
        gain = np.exp(self._growth * hours / EIGHT)
        grown = level * gain / (1.0 + level * (gain - 1.0))
        self.pool = np.where(self.pool > 0, np.maximum(1, (grown * self._capacity).astype(np.int64)), 0)

    def _die(self, hours: float) -> None:
        self.surface = self._random.binomial(self.surface, 10.0 ** -(self._dies * hours / EIGHT))


def _growth_ln_8h(temperature_c: float, catalogue: Catalogue) -> float:
    """Natural-log units in 8 h in a niche: the square-root model of Ratkowsky and others, J Bacteriol 1982;149:1."""
    figures = catalogue.figures
    above = max(0.0, temperature_c - figures.number(f"{ORGANISM}.growth_minimum_c"))
    a_day = (figures.number(f"{ORGANISM}.growth_sqrt_slope") * above) ** 2
    return a_day * figures.number(f"{ORGANISM}.growth_niche_part") * log(10.0) / (24.0 / EIGHT)
