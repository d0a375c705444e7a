"""Marks moved apart until none covers another, each as little as it can."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from swabwright.reports.frame import Dot

ROUNDS = 400
PULL = 0.02
"""Share of the way back to its own position that a mark is drawn in every round."""
GAP_MM = 0.2


def apart(centres: Sequence[Dot], radii: Sequence[float]) -> list[Dot]:
    """The centres in millimetres moved so that discs of these radii no longer overlap; lone discs stay."""
    home = np.array(centres, dtype=float).reshape(-1, 2)
    wanted = np.add.outer(radii, radii) + GAP_MM
    np.fill_diagonal(wanted, 0.0)
    # the usual case: nothing overlaps, and nothing may move
    if not (np.hypot(*(home[:, None] - home[None]).T) < wanted).any():
        return [(float(x), float(y)) for x, y in home]
    # samples at one and the same site have no direction to part in
    at = home + _first_nudge(len(home))
    for turn in range(ROUNDS):
        away = at[:, None] - at[None]
        distance = np.maximum(np.hypot(away[..., 0], away[..., 1]), 1e-9)
        overlap = np.maximum(wanted - distance, 0.0)
        if turn > ROUNDS // 2 and not overlap.any():
            break
        at = at + (away / distance[..., None] * overlap[..., None]).sum(axis=1) * 0.4
        # the pull keeps marks near their sites, and is off in the second half so that they come to rest apart
        at += (home - at) * PULL if turn < ROUNDS // 2 else 0.0
    moved = np.hypot(*(at - home).T) if len(home) else np.empty(0)
    # a shift too small to see is no shift: the mark stands exactly on its site
    return [(float(x), float(y)) for x, y in np.where(moved[:, None] < 0.05, home, at)]


def _first_nudge(count: int) -> NDArray[np.float64]:
    """Tiny different shifts, so that marks of one position part."""
    angle = np.arange(count) * 2.399963
    return np.stack([np.cos(angle), np.sin(angle)], axis=1) * 1e-3
