"""What predicted detections rest on: the niche itself, what was carried from it, or the background of results."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from validation.plants import SOUGHT, Seen
from validation.studies import EVERY, sites_read


@dataclass(frozen=True)
class Origins:
    """Parts of all predicted detections, which sum to 1, when every site is sampled once and a line is implicated."""

    at_niche: float
    carried: float
    background: float


def origins(seen: Sequence[Seen]) -> Origins:
    """The parts over all plants and draws."""
    parts = np.sum([_parts(one) for one in seen], axis=0)
    at_niche, carried, background = (float(part) for part in parts / parts.sum())
    return Origins(at_niche, carried, background)


def _parts(one: Seen) -> tuple[float, float, float]:
    """Expected detections a draw: on niches, elsewhere beyond the background, and the background elsewhere."""
    read = sites_read(one, EVERY, SOUGHT)
    draws = np.arange(len(one.niches))[:, None]
    is_niche = np.zeros((len(read) + 1, len(draws)), np.bool_)
    # index -1, no niche on a site, marks the row that is cut off
    is_niche[one.niches, draws] = True
    is_niche = is_niche[:-1][read]
    chance = one.chance[SOUGHT][read]
    elsewhere = ~is_niche
    background = one.background * elsewhere.sum() / len(draws)
    return chance[is_niche].sum() / len(draws), chance[elsewhere].sum() / len(draws) - background, background
