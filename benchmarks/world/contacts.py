"""Who touches whom in an invented plant: a list of contacts made from the document alone, bent by a level."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import permutations
from math import dist, exp
from typing import Any

import numpy as np

from swabwright.plant.document import Plant
from swabwright.plant.sites import Site

FLOOR_HEIGHT_ZONES = (3, 4)


@dataclass(frozen=True)
class Contact:
    """Cells go from one site to another: events in 8 hours and the share one event moves."""

    source: int
    target: int
    rate: float
    fraction: float


@dataclass(frozen=True)
class _Likely:
    """A possible contact before the level has bent it: mechanism and how near, 0 to 1."""

    source: int
    target: int
    mechanism: str
    nearness: float


def contacts(
    plant: Plant, numbers: dict[str, Any], level: dict[str, float], random: np.random.Generator
) -> list[Contact]:
    """The contacts of this truth: some missing, some that nobody drew, all with rates of their own."""
    kept = [likely for likely in _likely(plant, numbers) if random.random() >= level["missing"]]
    extra = int(level["extra"] * len(kept))
    pairs = random.integers(len(plant.sites), size=(extra, 2))
    kept += [_Likely(int(a), int(b), "hand", 1.0) for a, b in pairs if a != b]
    return [_bent(likely, numbers, level["ln_sd"], random) for likely in kept]


def _bent(likely: _Likely, numbers: dict[str, Any], ln_sd: float, random: np.random.Generator) -> Contact:
    figures = numbers[likely.mechanism]
    rate = figures["rate"] * likely.nearness * float(np.exp(ln_sd * random.standard_normal()))
    fraction = figures["fraction"] * float(np.exp(ln_sd * random.standard_normal()))
    return Contact(likely.source, likely.target, rate, min(0.5, fraction))


def _likely(plant: Plant, numbers: dict[str, Any]) -> Iterator[_Likely]:
    number_of = {site.code: place for place, site in enumerate(plant.sites)}
    for (a, first), (b, second) in permutations(enumerate(plant.sites), 2):
        for mechanism in _between(first, second):
            length = numbers[mechanism]["length_m"]
            metres = dist(first.position, second.position)
            if length == 0.0 or metres <= 3 * length:
                yield _Likely(a, b, mechanism, exp(-metres / length) if length else 1.0)
    for station in plant.workstations:
        for one, other in permutations(station.touches, 2):
            yield _Likely(number_of[one.site], number_of[other.site], "hand", other.weight / 4)


def _between(first: Site, second: Site) -> Iterator[str]:
    """The mechanisms that could carry cells from the first site to the second."""
    on_one_line = first.line is not None and first.line == second.line and first.zone == second.zone == 1
    if on_one_line and second.position[0] > first.position[0]:
        yield "line"
    if first.equipment and first.equipment == second.equipment and second.zone <= 2:
        yield "niche_to_contact"
    if first.room == second.room:
        yield from _in_one_room(first, second)
    if first.drain and first.drain == second.drain:
        yield "drain_flow" if second.position[0] < first.position[0] else "backflow"


def _in_one_room(first: Site, second: Site) -> Iterator[str]:
    if first.zone in FLOOR_HEIGHT_ZONES:
        yield "splash"
        if second.zone in FLOOR_HEIGHT_ZONES:
            yield "foot"
    if first.drain:
        yield "overspray"
    if first.overhead:
        yield "drip"
        yield "air"
    if first.type == "cart_wheel" or second.type == "cart_wheel":
        yield "wheel"
