"""What grows, sheds, is cleaned off, dies and is carried off at every source of a network."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from swabwright.plant.document import Plant
from swabwright.plant.figures import Figures
from swabwright.spread.network import ContactNetwork
from swabwright.spread.places import Place

FloatArray = npt.NDArray[np.float64]
LN_10 = float(np.log(10.0))
EIGHT_HOURS_A_DAY = 3.0


@dataclass(frozen=True)
class Ecology:
    """Figures of every source (rows, then incoming material), each of shape (sources,).

    shed: natural-log units shed in 8 running hours. growth: natural-log units in 8 h, far below capacity.
    cleaning: log10 taken off the surface by a full cleaning. die_off: natural-log units in 8 h.
    fast_survival: share that survives the first drying. carry_off: natural-log units taken off by product in
    8 running hours. line: index of the line whose product touches it, -1 for none. emitted: share of the unit
    that comes in with material in 8 running hours (incoming material only, else 0).
    """

    shed: FloatArray
    growth: FloatArray
    cleaning: FloatArray
    die_off: FloatArray
    fast_survival: FloatArray
    carry_off: FloatArray
    emitted: FloatArray
    line: npt.NDArray[np.int32]
    clock: tuple[str, ...]


def ecology_of(network: ContactNetwork, plant: Plant, figures: Figures, organism: str) -> Ecology:
    """The ecology of an organism at every source of a plant's contact network."""
    temperatures = {room.id: room.temperature_c for room in plant.rooms}
    places, lines = network.places, network.lines
    none = [0.0] * len(lines)
    carry = figures.number("product.carry_off_ln_per_8h")
    return Ecology(
        shed=np.array([shed_hazard(_of_type(p, figures, "shed_fraction_per_8h")) for p in places] + none),
        growth=np.array([growth_ln_per_8h(temperatures[p.room], figures, organism) for p in places] + none),
        cleaning=np.array([_of_type(p, figures, "cleaning_log10_reduction") for p in places] + none),
        die_off=np.array([_by_wetness(p, figures, organism, "die_off_log10_per_8h") * LN_10 for p in places] + none),
        fast_survival=np.array(
            [_by_wetness(p, figures, organism, "fast_survival") for p in places] + [1.0] * len(lines)
        ),
        carry_off=np.array([carry if place.touches_food else 0.0 for place in places] + none),
        emitted=np.array([0.0] * len(places) + [figures.number("incoming.emitted_per_8h")] * len(lines)),
        line=np.array([_line(place, lines) for place in places] + list(range(len(lines))), dtype=np.int32),
        clock=tuple(_clock(place) for place in places) + tuple(f"line:{line}" for line in lines),
    )


def shed_hazard(fraction: float) -> float:
    """Natural-log units in 8 running hours that take a niche down by this fraction, if nothing grew."""
    return float(-np.log1p(-fraction))


def growth_ln_per_8h(temperature_c: float, figures: Figures, organism: str) -> float:
    """Growth in a niche far below capacity: the square-root model, sqrt(log10 a day) = slope x (T - minimum).

    Ratkowsky, Olley, McMeekin and Ball, J Bacteriol 1982;149:1, https://doi.org/10.1128/jb.149.1.1-5.1982.
    """
    of = f"organism.{organism}"
    warmest = figures.number(f"{of}.growth_optimum_c")
    above = max(0.0, min(temperature_c, warmest) - figures.number(f"{of}.growth_minimum_c"))
    log10_a_day = (figures.number(f"{of}.growth_sqrt_slope") * above) ** 2
    return log10_a_day * figures.number(f"{of}.growth_niche_part") * LN_10 / EIGHT_HOURS_A_DAY


def _of_type(place: Place, figures: Figures, name: str) -> float:
    return figures.number(f"rest.{name}" if place.site is None else f"site_type.{place.site.type}.{name}")


def _by_wetness(place: Place, figures: Figures, organism: str, name: str) -> float:
    return figures.number(f"organism.{organism}.{name}_{place.wetness}")


def _line(place: Place, lines: tuple[str, ...]) -> int:
    if place.site is None or not place.touches_food or place.site.line is None:
        return -1
    return lines.index(place.site.line)


def _clock(place: Place) -> str:
    if place.touches_food and place.site is not None:
        return f"line:{place.site.line}"
    return f"room:{place.room}"
