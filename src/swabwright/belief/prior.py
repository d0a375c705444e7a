"""Where it may live before any sample: weights of every source, and how many niches there may be."""

from dataclasses import dataclass, replace
from math import fsum

import numpy as np
import numpy.typing as npt

from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.effective import effective_site, site_figure
from swabwright.plant.figures import Figures
from swabwright.plant.model import Point
from swabwright.plant.sites import Site

Array = npt.NDArray[np.float64]
ROOM, LINE = "room:", "line:"


@dataclass(frozen=True)
class Prior:
    """Weights of one niche over the sources (summing to 1) and of one, two and three niches; who set them."""

    source_names: tuple[str, ...]
    weight: Array
    niches: Array
    """Chance of one, two and three niches, shape (3,), summing to 1."""
    set_by: str
    words: str
    """What the weights rest on, for a finding's basis."""

    @property
    def pair_sum(self) -> float:
        """Sum of w_a w_b over ordered pairs a != b, by which the weight of a pair is divided."""
        return 1.0 - fsum(self.weight**2)

    @property
    def triple_sum(self) -> float:
        """Sum of w_a w_b w_c over ordered triples of different sources."""
        return 1.0 - 3.0 * fsum(self.weight**2) + 2.0 * fsum(self.weight**3)

    def of_sets(self, sources: npt.NDArray[np.int32]) -> Array:
        """Prior of ordered niche sets (S, 3), -1 for none: pi_1 w_a, pi_2 w_a w_b / pair_sum, and so on."""
        count = (sources >= 0).sum(axis=1)
        product = np.where(sources >= 0, self.weight[sources], 1.0).prod(axis=1)
        scale = np.array([self.niches[0], self.niches[1] / self._or_one(2), self.niches[2] / self._or_one(3)])
        return np.asarray(product * scale[count - 1])

    def _or_one(self, niches: int) -> float:
        total = self.pair_sum if niches == 2 else self.triple_sum
        return total if total > 0 else 1.0

    def given(self, possible: npt.NDArray[np.bool_]) -> "Prior":
        """This prior knowing that every niche is at one of the `possible` sources, shape (sources,)."""
        kept = np.where(possible, self.weight, 0.0)
        return replace(self, weight=kept / fsum(kept))


def site_weights(plant: Plant, catalogue: Catalogue) -> Array:
    """Expert weight of each drawn site, in their order, summing to 1: difficulty x wetness x organism fit.

    A site that was cut in pieces shares one weight over them by area.
    """
    raw = np.array([_own_weight(site, catalogue) for site in plant.sites]) * pieces(plant, catalogue)
    return np.asarray(raw / fsum(raw))


def make_prior(plant: Plant, catalogue: Catalogue, source_names: tuple[str, ...]) -> Prior:
    """The prior over a bank's sources: expert weights with a uniform part, and a share for what is not drawn."""
    figures = catalogue.figures
    uniform, not_drawn = figures.number("prior.uniform_share"), figures.number("prior.not_drawn_share")
    expert = site_weights(plant, catalogue)
    parts = pieces(plant, catalogue)
    # a cut site gets one share of the even part, not one for each piece
    drawn = (1.0 - uniform) * expert + uniform * parts / fsum(parts)
    places = {site.key: drawn[place] * (1.0 - not_drawn) for place, site in enumerate(plant.sites)}
    places |= {name: share * not_drawn for name, share in _not_drawn(plant, source_names, figures).items()}
    weight = np.array([places[name] for name in source_names])
    niches = np.array([figures.number(f"prior.niches_{word}") for word in ("one", "two", "three")])
    words = (
        f"cleaning difficulty x wetness x organism, {uniform * 100:.0f} in 100 even, "
        f"{not_drawn * 100:.0f} in 100 not on the drawing"
    )
    return Prior(source_names, weight / fsum(weight), niches / fsum(niches), _chooser(figures), words)


def _own_weight(site: Site, catalogue: Catalogue) -> float:
    figure = site_figure(site, catalogue)
    wetness = effective_site(site, catalogue).wetness
    kind = catalogue.site_types[site.type]
    # a plant that says how wet a site is overrules what its type would be
    wet = figure("wetness_weight") if wetness == kind.wetness else catalogue.figures.number(f"prior.wetness_{wetness}")
    return figure("cleaning_difficulty") * wet * figure("organism_fit_listeria")


def pieces(plant: Plant, catalogue: Catalogue) -> Array:
    """Share by area that each site is of the site it was cut from, shape (sites,); 1 for a site that is whole."""
    parents = [site.split_from or site.key for site in plant.sites]
    areas = [effective_site(site, catalogue).area_cm2 for site in plant.sites]
    whole: dict[str, float] = {}
    # sorted, because a sum of floats depends on its order
    for parent, area in sorted(zip(parents, areas, strict=True)):
        whole[parent] = whole.get(parent, 0.0) + area
    return np.array([area / whole[parent] for parent, area in zip(parents, areas, strict=True)])


def _not_drawn(plant: Plant, source_names: tuple[str, ...], figures: Figures) -> dict[str, float]:
    """Shares of the part not drawn, summing to 1: rooms by floor area, lines by whether raw material may carry it."""
    incoming = figures.number("prior.incoming_share_of_not_drawn")
    area = {f"{ROOM}{room.id}": _floor_area(room.outline) for room in plant.rooms}
    carry = {f"{LINE}{line.id}": figures.number(incoming_figure(line.raw_material_may_carry)) for line in plant.lines}
    rooms = _shared({name: area[name] for name in source_names if name in area})
    lines = _shared({name: carry[name] for name in source_names if name in carry})
    incoming = incoming if rooms and lines else float(bool(lines))
    return {name: share * (1.0 - incoming) for name, share in rooms.items()} | {
        name: share * incoming for name, share in lines.items()
    }


def incoming_figure(may_carry: bool) -> str:
    """The figure of the prior chance that it only comes in with material."""
    return f"presence.incoming_{'may_carry' if may_carry else 'cannot'}"


def _shared(parts: dict[str, float]) -> dict[str, float]:
    total = fsum(parts.values())
    return {name: (part / total if total > 0 else 1.0 / len(parts)) for name, part in parts.items()}


def _floor_area(outline: tuple[Point, ...]) -> float:
    pairs = zip(outline, (*outline[1:], outline[0]), strict=True)
    return abs(fsum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs)) / 2.0


def _chooser(figures: Figures) -> str:
    names = [name for name in figures if name.startswith("prior.")]
    people = sorted({who for name in names if (who := figures[name].changed_by)})
    return f"set by {', '.join(people)}" if people else "by the catalogue, unconfirmed"
