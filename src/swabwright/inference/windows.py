"""The windows of a scan: nearest sites about each site, times spans of periods."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from swabwright.errors import SwabwrightError

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
SAME_DISTANCE = 9
"""Decimals of a metre to which distances count as equal, so that rounding does not order them."""


@dataclass(frozen=True)
class Windows:
    """Every group of sites that is looked at, and what was tested in it over each span of periods."""

    order: Ints
    """(sites, sites): the sites by distance from each site."""
    whole: npt.NDArray[np.bool_]
    """(sites, sites): whether the first k + 1 sites are a window; sites equally far enter together."""
    distances_m: Floats
    """(sites, sites): distance of the site in `order`."""
    base: Floats
    """(sites, sites, spans): trials or exposure inside."""
    spans: Ints
    """(spans, 2): first and last period, both inside."""


def windows_of(base: Floats, distances_m: Floats, largest_share: float, radius_m: float | None) -> Windows:
    """All windows with at most a share of all that was tested and within a radius; base is (sites, periods).

    Errors: SwabwrightError when the share or the radius is not one.
    """
    if not 0.0 < largest_share < 1.0:
        raise SwabwrightError(f"largest share: {largest_share:g} must lie above 0 and below 1")
    if radius_m is not None and not radius_m >= 0.0:
        raise SwabwrightError(f"radius: {radius_m:g} m is not a distance")
    rounded = np.round(distances_m, SAME_DISTANCE)
    order = np.argsort(rounded, axis=1, kind="stable")
    near = np.take_along_axis(rounded, order, axis=1)
    spans = np.array([(a, b) for a in range(base.shape[1]) for b in range(a, base.shape[1])], dtype=np.int64)
    inside = np.cumsum(base[order], axis=1)
    last = np.append(np.diff(near, axis=1) > 0, np.ones((len(near), 1), bool), axis=1)
    whole = last & (inside.sum(axis=2) <= largest_share * base.sum())
    if radius_m is not None:
        whole &= near <= radius_m
    totals = np.stack([inside[:, :, a : b + 1].sum(axis=2) for a, b in spans], axis=2)
    return Windows(order, whole, near, totals, spans)
