"""What a laboratory would report from a truth: cells to result, by the world's own chain."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from benchmarks.world.truths import Truth, bends
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.effective import effective_site
from swabwright.plant.sites import Mode

MODES: tuple[Mode, ...] = ("as_is", "opened")
MEDIUM = "neutralising_buffer"
"""What the devices of the invented visits hold."""
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
    false = random.random((len(plant.sites), len(MODES))) < catalogue.figures.number("detection.false_positive")
    return np.asarray(shows(truth, plant, catalogue, seed, visit) | false)


def detected(
    truth: Truth, plant: Plant, catalogue: Catalogue, samples: Sequence[tuple[int, Mode]], seed: int
) -> list[bool]:
    """For each (site index, mode) whether the organism is detected; the same seed gives the same reports."""
    told = reports(truth, plant, catalogue, seed)
    return [bool(told[site, MODES.index(mode)]) for site, mode in samples]


def _area_shares(plant: Plant, catalogue: Catalogue) -> Array:
    sites = [effective_site(site, catalogue) for site in plant.sites]
    return np.array([min(1.0, one.sample_area_cm2 / one.area_cm2) for one in sites])


def _recovery(plant: Plant, catalogue: Catalogue) -> Array:
    """Share of the cells under a sponge that reach the broth alive, beside what cleaning left."""
    figures, sites = catalogue.figures, [effective_site(site, catalogue) for site in plant.sites]
    surface = [figures.number(f"surface.{one.surface}.relative_recovery") for one in sites]
    wet = [figures.number(f"recovery.{one.wetness}") for one in sites]
    kept = figures.number(f"medium.{MEDIUM}.{plant.cleanings[0].chemistry}")
    return np.minimum(1.0, np.array(surface) * np.array(wet)) * min(1.0, kept)


def _chances(plant: Plant, catalogue: Catalogue, level: int, random: np.random.Generator) -> _Chances:
    figures, bend, count = catalogue.figures, bends(level), len(plant.sites)
    odd = np.exp(bend["site_ln_sd"] * random.standard_normal(count))
    hands = np.exp(figures.number("recovery.ln_sd") * random.standard_normal())
    recovery = _recovery(plant, catalogue) / bend["recovery_lower"] * odd * hands
    area = _area_shares(plant, catalogue)
    # a sample meets the niche's own spot as often as it covers it, unless the spot is named
    aimed = np.array([site.spot is not None for site in plant.sites])
    hit = random.random((count, len(MODES))) < np.where(aimed, 1.0, area)[:, None]
    niche = recovery[:, None] * _reach(plant, catalogue, random) * hit
    return _Chances(np.minimum(1.0, area * recovery), np.minimum(1.0, niche))


def _reach(plant: Plant, catalogue: Catalogue, random: np.random.Generator) -> Array:
    """Share of a niche that a sample gets at, (sites, modes)."""
    figures = catalogue.figures
    middle = [[figures.number(f"site_type.{site.type}.reach_{mode}") for mode in MODES] for site in plant.sites]
    spread = np.exp(figures.number("reach.ln_sd") * random.standard_normal((len(plant.sites), len(MODES))))
    return np.minimum(1.0, np.array(middle) * spread)
