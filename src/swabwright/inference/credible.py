"""The fewest places that hold a randomly chosen niche with a given chance."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Array = npt.NDArray[np.float64]
ROUNDING = 1e-12
"""Shares are sums of many parts; so much below the wanted chance is rounding."""


def credible_set(share: Array, names: Sequence[str], wanted: float) -> tuple[int, ...]:
    """Places of the fewest sources whose shares add to the wanted chance, the likeliest first; ties by name.

    share: (sources,), summing to 1, each hypothesis spread equally over its niches: niches are exchangeable, so the
    set holds a niche that is picked at random from those there are.
    """
    order = sorted(range(len(names)), key=lambda place: (-share[place], names[place]))
    running = np.cumsum(share[order])
    needed = int(np.searchsorted(running, wanted - ROUNDING)) + 1
    return tuple(order[:needed])
