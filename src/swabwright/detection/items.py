"""What can be chosen: a site with a device and a mode, and what such a sample recovers."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from swabwright.plant.rooms import Wetness
from swabwright.plant.sites import Mode


@dataclass(frozen=True)
class Item:
    """One thing that can be chosen: a site, a device and a mode, with its figures for the engine."""

    site_key: str
    site_code: str
    device: str
    mode: Mode
    occasion: int
    """Index into the bank's occasions: the phase of this area's window."""
    row: int
    """Row of the site in the bank."""
    area_cm2: float
    """Area to take."""
    area_fraction: float
    recovery: float
    """k: recovery of device, surface and wetness times viability; kappa = area_fraction x recovery."""
    reach: float
    """acc: share of the protected pool that the device reaches in this mode (before its draw)."""
    hit_chance: float
    """r: chance that the sample covers the niche's own spot."""
    minutes: float
    """Minutes at the site, opening included, room entry and walking not."""
    opening_minutes: float = 0.0
    """The part of `minutes` that is opening: once for a machine, however many of its sites are sampled."""
    wetness: Wetness = "wet"
    """Of the surface: says which recovery figure `recovery` rests on."""
    draws_key: str | None = None
    """The key whose draws this site shares: of the site it was cut from, else its own (None)."""

    @property
    def shared_key(self) -> str:
        """The key whose draws and discrepancy this item shares: of the site it was cut from, else of its site."""
        return self.draws_key or self.site_key


@dataclass(frozen=True)
class ItemDraws:
    """Draws shared by all rows of a history: per (history, item), and per history."""

    reach: npt.NDArray[np.float32]
    """acc x u, capped at 1, times hit (0 or 1); shape (items, E)."""
    recovery: npt.NDArray[np.float32]
    """rho; shape (E,)."""
    log10_capacity: npt.NDArray[np.float32]
    """Capacity of a niche at each source, log10 CFU; shape (E, sources)."""
