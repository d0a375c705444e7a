"""What a laboratory would report from a truth: cells to result, by the world's own chain."""

import numpy as np

from benchmarks.world.truths import Truth, numbers
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.effective import effective_site


def detected(truth: Truth, plant: Plant, catalogue: Catalogue, samples: list[tuple[int, str]], seed: int) -> list[bool]:
    """For each (site index, mode) whether the organism is detected; the same seed gives the same reports."""
    figures = numbers()
    random = np.random.default_rng([seed, truth.level, 1])
    bend = figures["levels"][truth.level]
    return [
        _detected(truth, _area_share(plant, catalogue, site), site, mode, figures["sample"], bend, random)
        for site, mode in samples
    ]


def _area_share(plant: Plant, catalogue: Catalogue, place: int) -> float:
    site = effective_site(plant.sites[place], catalogue)
    taken = catalogue.figures.number(f"site_type.{plant.sites[place].type}.sample_area_cm2")
    return min(1.0, taken / site.area_cm2)


def _detected(
    truth: Truth,
    area_share: float,
    site: int,
    mode: str,
    sample: dict[str, float],
    bend: dict[str, float],
    random: np.random.Generator,
) -> bool:
    recovery = sample["recovery_wet"] / bend["recovery_lower"] * np.exp(bend["site_ln_sd"] * random.standard_normal())
    from_surface = random.binomial(int(truth.surface_cells[site]), min(1.0, area_share * recovery))
    reach = _reach(mode, sample, random)
    from_niche = random.binomial(int(truth.niche_cells[site]), min(1.0, recovery * reach))
    return bool(from_surface + from_niche > 0 or random.random() < sample["false_positive"])


def _reach(mode: str, sample: dict[str, float], random: np.random.Generator) -> float:
    low, high = sample["reach_opened"] if mode == "opened" else (10.0**p for p in sample["reach_as_is_log10"])
    middle = np.sqrt(low * high) if mode == "as_is" else (low + high) / 2
    return float(min(1.0, middle * np.exp(sample["reach_ln_sd"] * random.standard_normal())))
