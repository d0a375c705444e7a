"""Who touches whom in an invented plant: a list of contacts made from the document alone, bent by a level.

At level 0 the contacts mean what the catalogue's figures mean: a rate belongs to its source and is shared over all that
lies within reach, drawn or not. The list itself is this world's own, cruder than a planner's: straight distances within
a room, no walls in the way, heights by hygiene zone.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import dist, exp, pi
from typing import Any

import numpy as np
import numpy.typing as npt

from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.effective import EffectiveSite, effective_site
from swabwright.plant.figures import Figures

CM2_A_M2 = 1e4
CUT = 3.0
"""Kernel lengths beyond which nothing is carried."""
WET_FLOOR = frozenset({"drain", "floor"})
SPRAYED = frozenset({"drain", "floor", "equipment", "wall", "mobile"})
MISTED = frozenset({"drain", "floor", "air", "overhead"})
WALKED = frozenset({"floor", "mobile", "drain"})
Array = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Contact:
    """Cells leave one site for others: events in 8 running hours, the share one event moves, and where that goes.

    Shares of the targets sum to at most 1; what is left over goes where nobody drew a site. together: one event
    reaches all targets; else it reaches one of them.
    """

    source: int
    targets: npt.NDArray[np.int64]
    shares: Array
    rate: float
    fraction: float
    together: bool


@dataclass(frozen=True)
class _Likely:
    """A possible contact before the level has bent it."""

    source: int
    mechanism: str
    shares: dict[int, float]
    often: float = 1.0


def contacts(plant: Plant, catalogue: Catalogue, level: dict[str, float], random: np.random.Generator) -> list[Contact]:
    """The contacts of this truth: some missing, some that nobody drew, all with rates of their own."""
    figures = catalogue.figures
    bent = _Bent(figures, level, random)
    likely = [one for one in _Places(plant, catalogue).likely() if one.shares]
    return [bent.contact(one, len(plant.sites)) for one in likely]


class _Bent:
    """Draws of one truth: a factor for each mechanism, and for each source and target of it."""

    def __init__(self, figures: Figures, level: dict[str, float], random: np.random.Generator) -> None:
        self._figures, self._level, self._random = figures, level, random
        names = sorted({name.split(".")[0] for name in figures.under("mechanism")})
        spreads = figures.number("history.rate_ln_sd"), figures.number("history.fraction_ln_sd")
        # half of what a level bends is common to a mechanism, half belongs to each contact
        self._half = level["ln_sd"] / np.sqrt(2)
        self._of = {
            name: tuple(np.exp(np.hypot(spread, self._half) * random.standard_normal()) for spread in spreads)
            for name in names
        }

    def contact(self, one: _Likely, sites: int) -> Contact:
        figures, random = self._figures, self._random
        targets = [to for to in one.shares if random.random() >= self._level["missing"]]
        shares = [one.shares[to] for to in targets]
        if one.shares and random.random() < self._level["extra"] * len(one.shares):
            targets.append(int(random.integers(sites)))
            shares.append(float(np.mean(list(one.shares.values()))))
        own = np.array(shares) * np.exp(self._half * random.standard_normal(len(shares)))
        rate, fraction = self._of[one.mechanism]
        return Contact(
            source=one.source,
            targets=np.array(targets, np.int64),
            shares=own / max(1.0, float(own.sum())),
            rate=figures.number(f"mechanism.{one.mechanism}.rate_per_8h")
            * one.often * rate * float(np.exp(self._half * random.standard_normal())),
            fraction=figures.number(f"mechanism.{one.mechanism}.fraction") * fraction,
            together=one.mechanism not in ("hand", "foot", "wheel", "niche_to_contact"),
        )  # fmt: skip


class _Places:
    """The plant's sites with what follows from their type, and the contacts between them."""

    def __init__(self, plant: Plant, catalogue: Catalogue) -> None:
        self._plant, self._figures = plant, catalogue.figures
        self._sites = [effective_site(site, catalogue) for site in plant.sites]
        self._number_of = {site.code: place for place, site in enumerate(plant.sites)}

    def likely(self) -> Iterator[_Likely]:
        for place, own in enumerate(self._sites):
            if own.wetness == "wet":
                yield from self._around(place, own)
            yield self._along_line(place, own)
            yield from self._along_drain(place, own)
            yield self._in_machine(place, own)
            yield self._dripping(place, own)
            yield from self._on_foot(place, own)
        yield from self._by_hand()

    def _number(self, name: str) -> float:
        return self._figures.number(f"mechanism.{name}")

    def _others(self, place: int) -> Iterator[tuple[int, EffectiveSite]]:
        return ((to, other) for to, other in enumerate(self._sites) if to != place)

    def _around(self, place: int, own: EffectiveSite) -> Iterator[_Likely]:
        for mechanism, holders in (("splash", WET_FLOOR), ("overspray", SPRAYED), ("air", MISTED)):
            if own.type.holder in holders:
                yield _Likely(place, mechanism, dict(self._disc(place, own, mechanism)))

    def _disc(self, place: int, own: EffectiveSite, mechanism: str) -> Iterator[tuple[int, float]]:
        """An exponential kernel over the floor, whose integral over the plane is 2 pi length squared."""
        length, height = self._number(f"{mechanism}.kernel_m"), self._number(f"{mechanism}.kernel_height_m")
        for to, other in self._others(place):
            metres = dist(own.site.position, other.site.position)
            if other.site.room == own.site.room and metres <= CUT * length:
                raised = exp(-abs(_height_m(own) - _height_m(other)) / height)
                area_m2 = other.area_cm2 / CM2_A_M2
                yield to, min(1.0, area_m2 * exp(-metres / length) / (2 * pi * length**2)) * raised

    def _along_line(self, place: int, own: EffectiveSite) -> _Likely:
        shares = {
            to: self._stretch("line", other, other.site.position[0] - own.site.position[0])
            for to, other in self._others(place)
            if own.site.line and other.site.line == own.site.line and own.site.zone == other.site.zone == 1
            if other.site.position[0] > own.site.position[0]
        }
        return _Likely(place, "line", shares)

    def _along_drain(self, place: int, own: EffectiveSite) -> Iterator[_Likely]:
        flows: dict[str, dict[int, float]] = {"drain_flow": {}, "backflow": {}}
        for to, other in self._others(place):
            if own.site.drain and other.site.drain == own.site.drain:
                metres = own.site.position[0] - other.site.position[0]
                flow = "drain_flow" if metres >= 0 else "backflow"
                flows[flow][to] = self._stretch(flow, other, abs(metres))
        return (_Likely(place, flow, shares) for flow, shares in flows.items())

    def _stretch(self, mechanism: str, other: EffectiveSite, metres: float) -> float:
        """Share that an exponential carry distance puts on the other site's length along the way."""
        length = self._number(f"{mechanism}.kernel_m")
        width = self._number(f"{'drain_flow' if mechanism == 'backflow' else mechanism}.width_m")
        own_m = other.area_cm2 / CM2_A_M2 / width
        return exp(-metres / length) * (1.0 - exp(-own_m / length))

    def _in_machine(self, place: int, own: EffectiveSite) -> _Likely:
        near = [
            to
            for to, other in self._others(place)
            if own.site.equipment and other.site.equipment == own.site.equipment and other.site.zone <= 2
        ]
        return _Likely(place, "niche_to_contact", {to: 1.0 / len(near) for to in near})

    def _dripping(self, place: int, own: EffectiveSite) -> _Likely:
        thing = next((one for one in self._plant.overhead if one.id == own.site.overhead and one.drips), None)
        if thing is None:
            return _Likely(place, "drip", {})
        low, high = np.array(thing.outline).min(axis=0), np.array(thing.outline).max(axis=0)
        margin, floor_m2 = self._number("drip.margin_m"), float(np.prod(high - low))
        under = (
            (to, other)
            for to, other in self._others(place)
            if other.site.room == own.site.room and not other.site.overhead
            if all(low - margin <= other.site.position) and all(other.site.position <= high + margin)
        )
        return _Likely(place, "drip", {to: min(1.0, other.area_cm2 / CM2_A_M2 / floor_m2) for to, other in under})

    def _on_foot(self, place: int, own: EffectiveSite) -> Iterator[_Likely]:
        for route in self._plant.routes:
            mechanism = "foot" if route.kind == "people" else "wheel"
            if own.type.holder in WALKED and self._on_route(own, route.path):
                shares = {
                    to: 0.5 * self._stretch(mechanism, other, dist(own.site.position, other.site.position))
                    for to, other in self._others(place)
                    if other.type.holder in WALKED and self._on_route(other, route.path)
                }
                yield _Likely(
                    place, mechanism, shares, route.trips_per_hour / self._number("foot.reference_trips_per_h")
                )

    def _on_route(self, own: EffectiveSite, path: Any) -> bool:
        beside = self._number("foot.width_m") / 2 + self._number("foot.margin_m")
        return any(_metres_to(own.site.position, a, b) <= beside for a, b in pairwise(path))

    def _by_hand(self) -> Iterator[_Likely]:
        length = self._number("hand.kernel_m")
        for station in self._plant.workstations:
            touched = {self._number_of[touch.site]: touch.weight for touch in station.touches}
            for place in touched:
                at = self._sites[place].site.position
                pull = {
                    to: weight * exp(-dist(at, self._sites[to].site.position) / length)
                    for to, weight in touched.items()
                    if to != place
                }
                yield _Likely(place, "hand", {to: one / sum(pull.values()) for to, one in pull.items()})


def _height_m(own: EffectiveSite) -> float:
    """Overhead, at working height, or on the floor."""
    if own.type.holder == "overhead":
        return 2.5
    return 0.9 if own.site.zone <= 2 else 0.0


def _metres_to(point: Any, a: Any, b: Any) -> float:
    start, end, at = (np.asarray(one, np.float64) for one in (a, b, point))
    along = end - start
    part = float(np.clip((at - start) @ along / max(1e-9, float(along @ along)), 0.0, 1.0))
    return float(np.linalg.norm(at - start - part * along))
