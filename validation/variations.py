"""The same prediction under other assumptions: which of them would have to be different to come near the record."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fnmatch import fnmatchcase

import numpy as np

from swabwright.plant.catalogue import Catalogue
from swabwright.plant.figures import Figure, Figures
from validation.plants import ROUTINE, SOUGHT, Reading, Seen, see_plants
from validation.published import Change, Settings, SiteKinds, Variation
from validation.studies import EVERY, pool_of

DRAIN, CONTACT = SiteKinds(groups=("drain",)), SiteKinds(groups=("contact",))


@dataclass(frozen=True)
class Varied:
    """Mean chance that one sample detects, given that it lives here: routine at every site, at drains, on contact.

    implicated: at every site, sampled as an investigation does, given that a line is implicated.
    """

    what: str
    every: float
    drain: float
    contact: float
    implicated: float


def vary(catalogue: Catalogue, settings: Settings, variations: Sequence[Variation]) -> tuple[Varied, ...]:
    """Each variation simulated on the same few invented plants."""
    return tuple(_varied(catalogue, settings, variation) for variation in variations)


def changed(figures: Figures, change: Change) -> Figures:
    """Figures with one change; a change that reaches no figure is refused."""
    reached = {name: _moved(figure, change) for name, figure in figures.items() if fnmatchcase(name, change.figures)}
    if not reached:
        raise ValueError(f"no figure is called {change.figures}")
    return Figures({**dict(figures), **reached})


def _moved(figure: Figure, change: Change) -> Figure:
    return replace(figure, value=change.to if change.to is not None else figure.value * change.times + change.plus)


def _varied(catalogue: Catalogue, settings: Settings, variation: Variation) -> Varied:
    figures = catalogue.figures
    for change in variation.changes:
        figures = changed(figures, change)
    few = {"plants": settings.plants_varied, "sites": variation.sites or settings.sites}
    seen = see_plants(replace(catalogue, figures=figures), settings.model_copy(update=few))
    every, drain, contact = (_mean(seen, kinds) for kinds in (EVERY, DRAIN, CONTACT))
    return Varied(variation.what, every, drain, contact, implicated=_mean(seen, EVERY, SOUGHT))


def _mean(seen: Sequence[Seen], kinds: SiteKinds, reading: Reading = ROUTINE) -> float:
    return float(np.mean(pool_of(seen, kinds, reading).asked))
