"""What a laboratory would report from a truth: cells to result, by the world's own chain."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from benchmarks.world.truths import Truth, numbers
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.effective import effective_site
from swabwright.plant.sites import Mode

MODES: tuple[Mode, ...] = ("as_is", "opened")
Array = npt.NDArray[np.float64]
Shows = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class _Chances:
    """Share of the cells on each site's surface that a sample recovers, and of its niche by mode."""

    surface: Array
    niche: Array
    """(sites, modes)"""


def shows(truth: Truth, plant: Plant, catalogue: Catalogue, seed: int, visit: int = 0) -> Shows:
    """Whether a sample of each site in each mode holds the organism, shape (sites, modes), false positives apart.

    What is odd about a site, and how deep its niche is, belong to the seed; each visit draws its own cells.
    """
    chances = _chances(plant, catalogue, truth.level, np.random.default_rng([seed, truth.level, 1]))
    random = np.random.default_rng([seed, truth.level, 2, visit])
    from_surface = random.binomial(truth.surface_cells[:, None], chances.surface[:, None].repeat(len(MODES), axis=1))
    from_niche = random.binomial(truth.niche_cells[:, None], chances.niche)
    return np.asarray(from_surface + from_niche > 0)


def reports(truth: Truth, plant: Plant, catalogue: Catalogue, seed: int, visit: int = 0) -> Shows:
    """What the laboratory would report of every site and mode: what a sample holds, and the odd false positive."""
    random = np.random.default_rng([seed, truth.level, 3, visit])
    false = random.random((len(plant.sites), len(MODES))) < numbers()["sample"]["false_positive"]
    return np.asarray(shows(truth, plant, catalogue, seed, visit) | false)


def detected(
    truth: Truth, plant: Plant, catalogue: Catalogue, samples: Sequence[tuple[int, Mode]], seed: int
) -> list[bool]:
    """For each (site index, mode) whether the organism is detected; the same seed gives the same reports."""
    told = reports(truth, plant, catalogue, seed)
    return [bool(told[site, MODES.index(mode)]) for site, mode in samples]


def _area_shares(plant: Plant, catalogue: Catalogue) -> Array:
    taken = np.array([catalogue.figures.number(f"site_type.{site.type}.sample_area_cm2") for site in plant.sites])
    return np.minimum(1.0, taken / np.array([effective_site(site, catalogue).area_cm2 for site in plant.sites]))


def _chances(plant: Plant, catalogue: Catalogue, level: int, random: np.random.Generator) -> _Chances:
    figures = numbers()
    sample, bend, count = figures["sample"], figures["levels"][level], len(plant.sites)
    odd = np.exp(bend["site_ln_sd"] * random.standard_normal(count))
    recovery = sample["recovery_wet"] / bend["recovery_lower"] * odd
    surface = np.minimum(1.0, _area_shares(plant, catalogue) * recovery)
    return _Chances(surface, np.minimum(1.0, recovery[:, None] * _reach(sample, count, random)))


def _reach(sample: dict[str, Any], count: int, random: np.random.Generator) -> Array:
    """Share of a niche that a sample gets at, (sites, modes)."""
    low, high = sample["reach_opened"]
    shallow, deep = (10.0**power for power in sample["reach_as_is_log10"])
    middle = np.array([np.sqrt(shallow * deep), (low + high) / 2])
    return np.minimum(1.0, middle * np.exp(sample["reach_ln_sd"] * random.standard_normal((count, len(MODES)))))
