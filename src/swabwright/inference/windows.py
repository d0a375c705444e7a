"""The windows of a scan: nearest sites about each site, times spans of periods."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from swabwright.errors import SwabwrightError

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]
SAME_DISTANCE = 9
"""Decimals of a metre to which distances count as equal, so that rounding does not order them."""

ROUNDING = 1e-12
"""By so much of itself a sum may pass the largest share: a sum in another order differs by rounding."""

MOST_WINDOWS = 30_000_000
"""Windows of a scan; each takes a few numbers of memory."""


@dataclass(frozen=True)
class Windows:
    """Every group of sites that is looked at, and what was tested in it over each span of periods.

    Windows about one site are numbered from the narrowest; each holds all that the ones before it hold.
    """

    enters: Ints
    """(sites, sites): about each site, the first window that holds each site; the number of windows when none does."""
    count: Ints
    """(sites,): how many windows there are about each site."""
    radius_m: Floats
    """(sites, windows): distance of the farthest site inside; infinite past the last window."""
    base: Floats
    """(sites, windows, spans): trials or exposure inside; infinite past the last window."""
    spans: Ints
    """(spans, 2): first and last period, both inside."""

    def members(self, centre: int, window: int) -> Ints:
        """The sites inside one window."""
        return np.flatnonzero(self.enters[centre] <= window)

    def touching(self, centre: int, window: int, span: int) -> npt.NDArray[np.bool_]:
        """(sites, windows, spans): the windows that share a site in one period with this one."""
        first = self.enters[:, self.members(centre, window)].min(axis=1)
        holds_site = np.arange(self.radius_m.shape[1]) >= first[:, None]
        starts, ends = self.spans[span]
        holds_period = (self.spans[:, 0] <= ends) & (self.spans[:, 1] >= starts)
        shared: npt.NDArray[np.bool_] = holds_site[:, :, None] & holds_period
        return shared


def windows_of(base: Floats, distances_m: Floats, largest_share: float, radius_m: float | None) -> Windows:
    """All windows with at most a share of all that was tested and within a radius; base is (sites, periods).

    Sites equally far enter together; a site at an infinite distance (no way to it) enters no window.
    Errors: SwabwrightError when the share or the radius is not one.
    """
    if not 0.0 < largest_share < 1.0:
        raise SwabwrightError(f"largest share: {largest_share:g} must lie above 0 and below 1")
    if radius_m is not None and not radius_m >= 0.0:
        raise SwabwrightError(f"radius: {radius_m:g} m is not a distance")
    rounded = np.round(distances_m, SAME_DISTANCE)
    order = np.argsort(rounded, axis=1, kind="stable")
    near = np.take_along_axis(rounded, order, axis=1)
    inside = np.cumsum(base[order], axis=1)
    last = np.append(near[:, 1:] > near[:, :-1], np.ones((len(near), 1), bool), axis=1)
    limit = np.inf if radius_m is None else radius_m
    most = largest_share * base.sum() * (1.0 + ROUNDING)
    whole = last & np.isfinite(near) & (near <= limit) & (inside.sum(axis=2) <= most)
    return _numbered(whole, order, near, inside)


def _numbered(whole: npt.NDArray[np.bool_], order: Ints, near: Floats, inside: Floats) -> Windows:
    """The windows that are looked at, numbered; `whole` says after which site a window is complete."""
    count = whole.sum(axis=1)
    periods = inside.shape[2]
    windows = len(order) * int(count.max(initial=0)) * periods * (periods + 1) // 2
    if windows > MOST_WINDOWS:
        raise SwabwrightError(
            f"{windows} windows are more than the {MOST_WINDOWS} that fit: set a smaller radius or join periods"
        )
    number: Ints = np.cumsum(whole, axis=1) - whole
    enters = np.empty_like(order)
    np.put_along_axis(enters, order, number, axis=1)
    spans = np.array([(a, b) for a in range(periods) for b in range(a, periods)], dtype=np.int64)
    centres, places = np.nonzero(whole)
    at = centres, number[centres, places]
    radius_m = np.full((len(order), int(count.max(initial=0))), np.inf)
    radius_m[at] = near[centres, places]
    base = np.full((*radius_m.shape, len(spans)), np.inf)
    for s, (a, b) in enumerate(spans):
        base[(*at, s)] = inside[centres, places, a : b + 1].sum(axis=1)
    return Windows(enters, count, radius_m, base, spans)
