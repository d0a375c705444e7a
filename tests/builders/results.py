"""Invented results on the tiny plant's bank."""

from typing import Any

import numpy as np
from builders.items import item

from swabwright.belief.known import Known
from swabwright.detection.observed import Observed

SITES = 6


def observed(known: Known, place: int, *, detected: bool = False, **changed: Any) -> Observed:
    """A result of a sponge at the site of a row; sample named by the row unless said otherwise."""
    own = item(place, site_key=known.bank.row_names[place], **changed.pop("item", {}))
    usual: dict[str, Any] = {"sample": f"sample {place}", "item": own, "detected": detected, "batch": "visit-1"}
    return Observed(**{**usual, **changed})


def results_at(known: Known, found: tuple[int, ...], silent: tuple[int, ...]) -> tuple[Observed, ...]:
    """Detected at some sites, not detected at others."""
    return tuple(observed(known, place, detected=True) for place in found) + tuple(
        observed(known, place) for place in silent
    )


def dense_rows(sources: int, histories: int) -> tuple[np.ndarray[Any, Any], np.ndarray[Any, Any]]:
    """History and sources of every hypothesis with one niche, then of every unordered pair, in every history."""
    sets = [(a, -1, -1) for a in range(sources)]
    sets += [(a, b, -1) for a in range(sources) for b in range(a + 1, sources)]
    history = np.repeat(np.arange(histories, dtype=np.int32), len(sets))
    return history, np.tile(np.array(sets, np.int32), (histories, 1))
