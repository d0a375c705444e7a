"""One truth: where it lives, and how many cells lie where at each visit. Whole cells, one event at a time."""

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import numpy.typing as npt

from benchmarks.world.contacts import contacts
from benchmarks.world.run import Run
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.effective import effective_site

DAYS = 12
"""The first visit is on the morning of day 12, a Monday."""
DAYS_BETWEEN = 7
WORKING_DAYS = 5
SUSPECTED_DAYS = range(5, 10)
"""Monday to Friday of the week before."""
Cells = npt.NDArray[np.int64]
Array = npt.NDArray[np.float64]


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


def bends(level: int) -> dict[str, float]:
    """How far a level is from what a planner believes."""
    with (Path(__file__).parent / "world.toml").open("rb") as file:
        levels: list[dict[str, float]] = tomllib.load(file)["levels"]
    return levels[level]


def make_truth(plant: Plant, catalogue: Catalogue, *, level: int, seed: int) -> Truth:
    """A truth for this plant; the same seed and level give the same truth."""
    return make_visits(plant, catalogue, level, seed)[0]


def make_visits(
    plant: Plant, catalogue: Catalogue, level: int, seed: int, visits: int = 1, gone_after: int | None = None
) -> tuple[Truth, ...]:
    """One truth as it is at several visits, a week apart.

    gone_after: every niche is taken out on the afternoon of this visit (from 0); else nothing is done about any.
    """
    random = np.random.default_rng([seed, level])
    bend = bends(level)
    niches = _niches(plant, catalogue, bend, random)
    run = Run(plant, catalogue, contacts(plant, catalogue, bend, random), random)
    run.found(niches, _founding_days(catalogue, len(niches), random))
    return tuple(Truth(level, niches, *one) for one in _seen(plant, run, visits, gone_after))


def _founding_days(catalogue: Catalogue, count: int, random: np.random.Generator) -> list[int]:
    """Before the days that are simulated, or on any day up to the first suspected one."""
    old = random.random(count) < catalogue.figures.number("history.founded_before_share")
    young = random.integers(SUSPECTED_DAYS.start, size=count)
    return [0 if before else int(day) for before, day in zip(old, young, strict=True)]


def _seen(plant: Plant, run: Run, visits: int, gone_after: int | None) -> Iterator[tuple[Cells, Cells, dict[str, int]]]:
    """Cells in niches, on surfaces and so far in product at each visit."""
    product = dict.fromkeys((line.id for line in plant.lines), 0)
    for day in range(DAYS + DAYS_BETWEEN * (visits - 1) + 1):
        visit, rest = divmod(day - DAYS, DAYS_BETWEEN)
        into = product if day in SUSPECTED_DAYS else dict.fromkeys(product, 0)
        running = (day - DAYS) % DAYS_BETWEEN < WORKING_DAYS
        if running:
            run.morning(day, into)
        if rest == 0 and visit >= 0:
            yield run.pool.copy(), run.surface.copy(), dict(product)
            if visit == gone_after:
                run.take_out()
        if running:
            run.afternoon(into)
        run.night(cleaned=running)


def make_signalled_truth(plant: Plant, catalogue: Catalogue, *, level: int, seed: int) -> tuple[Truth, str]:
    """A truth for whose sake somebody fell ill, and the line that is suspected: as likely as its product was loaded."""
    own, line = signalled_seed(plant, catalogue, level=level, seed=seed)
    return make_truth(plant, catalogue, level=level, seed=own), line


def signalled_seed(plant: Plant, catalogue: Catalogue, *, level: int, seed: int) -> tuple[int, str]:
    """The seed of such a truth, and its suspected line."""
    figures = catalogue.figures
    days = figures.number("evidence.half_point_days")
    half = figures.number("evidence.half_point_cfu") * len(SUSPECTED_DAYS) / days
    random = np.random.default_rng([seed, level, 2])
    while True:
        own = int(random.integers(2**62))
        cells = make_truth(plant, catalogue, level=level, seed=own).product_cells
        line = list(cells)[int(random.integers(len(cells)))]
        if random.random() < cells[line] / (cells[line] + half):
            return own, line


def _niches(plant: Plant, catalogue: Catalogue, bend: dict[str, float], random: np.random.Generator) -> tuple[int, ...]:
    """Where it lives: by difficulty, wetness and how well the organism fits, with an even part, bent by the level."""
    weight = _expert_weight(plant, catalogue)
    even = catalogue.figures.number("prior.uniform_share")
    weight = (1 - even) * weight / weight.sum() + even / len(weight)
    weight *= np.exp(bend["prior_ln_sd"] * random.standard_normal(len(weight)))
    weight = (1 - bend["uniform"]) * weight / weight.sum() + bend["uniform"] / len(weight)
    shares = np.array([catalogue.figures.number(f"prior.niches_{word}") for word in ("one", "two", "three")])
    count = 1 + int(random.choice(len(shares), p=shares / shares.sum()))
    return tuple(int(place) for place in random.choice(len(weight), size=count, replace=False, p=weight))


def _expert_weight(plant: Plant, catalogue: Catalogue) -> Array:
    def own(kind: str, name: str) -> float:
        return catalogue.figures.number(f"site_type.{kind}.{name}")

    sites = [effective_site(site, catalogue) for site in plant.sites]
    wet = [
        own(one.type.id, "wetness_weight")
        if one.wetness == one.type.wetness
        else catalogue.figures.number(f"prior.wetness_{one.wetness}")
        for one in sites
    ]
    fit = [own(one.type.id, "cleaning_difficulty") * own(one.type.id, "organism_fit_listeria") for one in sites]
    return np.array(fit) * np.array(wet)
