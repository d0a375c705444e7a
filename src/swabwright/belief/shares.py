"""Where it may live, as shares that sum to one and as 1,000 dots."""

import numpy as np
import numpy.typing as npt

from swabwright.belief.believe import Belief
from swabwright.belief.prior import LINE, ROOM
from swabwright.belief.rows import HypothesisRows
from swabwright.case.plan import Believed
from swabwright.plant.document import Plant

Array = npt.NDArray[np.float64]
DOTS = 1000


def shares(rows: HypothesisRows, sources: int) -> Array:
    """Share of each source, shape (sources,), summing to 1: a row spreads its weight equally over its niches."""
    present = rows.sources >= 0
    # niches of a row are exchangeable: asking for "the" niche must not depend on which is listed first
    each = rows.weight / present.sum(axis=1)
    spread = np.where(present, each[:, None], 0.0)
    total = np.bincount(np.where(present, rows.sources, 0).ravel(), spread.ravel(), sources)
    return np.asarray(total / total.sum())


def dots_of(share: Array, names: tuple[str, ...], dots: int = DOTS) -> npt.NDArray[np.int64]:
    """Whole dots for each share by the largest remainder, `dots` in all; equal remainders by name."""
    exact = share / share.sum() * dots
    whole = np.floor(exact).astype(np.int64)
    order = sorted(range(len(names)), key=lambda place: (-(exact[place] - whole[place]), names[place]))
    whole[order[: dots - int(whole.sum())]] += 1
    return np.asarray(whole)


def believed(belief: Belief) -> tuple[Believed, ...]:
    """Every place with its share and its dots, the likeliest first; the plant's own names."""
    names = belief.known.bank.source_names
    share = shares(belief.rows, len(names))
    dots = dots_of(share, names)
    places = _places(belief.known.setting.plant)
    order = sorted(range(len(names)), key=lambda place: (-share[place], names[place]))
    return tuple(
        Believed(place=places[names[at]][0], name=places[names[at]][1], share=min(1.0, share[at]), dots=int(dots[at]))
        for at in order
    )


def _places(plant: Plant) -> dict[str, tuple[str, str]]:
    """Place and name of every source: a site's code and name, the rest of a room, a line's incoming material."""
    sites = {site.key: (site.code, site.name) for site in plant.sites}
    rooms = {f"{ROOM}{room.id}": (f"{ROOM}{room.id}", f"rest of {room.name}") for room in plant.rooms}
    lines = {f"{LINE}{line.id}": (f"{LINE}{line.id}", f"incoming material of {line.name}") for line in plant.lines}
    return sites | rooms | lines
