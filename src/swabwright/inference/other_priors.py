"""The same results under priors that somebody else might have set."""

from collections.abc import Callable
from dataclasses import replace
from math import fsum

import numpy as np
import numpy.typing as npt

from swabwright.belief.known import Known
from swabwright.belief.prior import LINE, ROOM, Prior, pieces
from swabwright.plant.effective import site_figure
from swabwright.plant.sites import Site

Array = npt.NDArray[np.float64]
EVEN = "every drawn site alike"
BY_TYPE = "the site type alone"


def other_priors(known: Known, prior: Prior) -> tuple[Prior, Prior]:
    """The prior with every drawn site alike, and with the site type alone; what is not drawn keeps its weight.

    By type: cleaning difficulty x wetness of the type x organism fit, without what the plant says of a site, and
    without a part that is even. Numbers of niches stay as they are.
    """
    return _drawn(known, prior, lambda site: 1.0, EVEN), _drawn(known, prior, _by_type(known), BY_TYPE)


def _by_type(known: Known) -> Callable[[Site], float]:
    def weight(site: Site) -> float:
        figure = site_figure(site, known.setting.catalogue)
        return figure("cleaning_difficulty") * figure("wetness_weight") * figure("organism_fit_listeria")

    return weight


def _drawn(known: Known, prior: Prior, weigh: Callable[[Site], float], words: str) -> Prior:
    """The prior with other weights of the drawn sites, the pieces of a cut site sharing one by area."""
    plant, catalogue = known.setting.plant, known.setting.catalogue
    raw = np.array([weigh(site) for site in plant.sites]) * pieces(plant, catalogue)
    of_site = {site.key: float(part) for site, part in zip(plant.sites, raw / fsum(raw), strict=True)}
    drawn = 1.0 - fsum(prior.weight[place] for place, name in enumerate(prior.source_names) if _not_drawn(name))
    weight = [
        float(prior.weight[place]) if _not_drawn(name) else drawn * of_site[name]
        for place, name in enumerate(prior.source_names)
    ]
    return replace(prior, weight=np.array(weight) / fsum(weight), set_by="for comparison", words=words)


def _not_drawn(name: str) -> bool:
    return name.startswith((ROOM, LINE))
