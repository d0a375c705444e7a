"""The choice to be made, as arrays: what each item would recover in each row, what it costs, what binds."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from swabwright.detection.factor import SiteResults
from swabwright.detection.model import DetectionModel

IntArray = npt.NDArray[np.int32]


@dataclass(frozen=True)
class Past:
    """Earlier results at sites of the problem, so that a new item's gain is conditional on them.

    at_site: results by site index, expected cells of each in every row of the problem. model: the full form's figures.
    """

    at_site: Mapping[int, SiteResults]
    model: DetectionModel

    def positive(self) -> tuple[int, ...]:
        """Sites with an earlier 'detected'; no bound is claimed for them."""
        return tuple(site for site, results in self.at_site.items() if results.detected.any())

    def on_rows(self, rows: npt.NDArray[np.int64]) -> "Past":
        """The same past on some of the rows."""
        few = {site: replace(results, cells=results.cells[:, rows]) for site, results in self.at_site.items()}
        return Past(few, self.model)


@dataclass(frozen=True)
class Charges:
    """Minutes that belong to more than one item."""

    per_room: float
    per_machine: npt.NDArray[np.float64]
    """Minutes once per machine opened, shape (machines,)."""
    per_class_change: float


@dataclass(frozen=True)
class Group:
    """At least `minimum` chosen sites among `sites` (a zone's minimum); the name goes into a clash's sentence."""

    name: str
    sites: npt.NDArray[np.bool_]
    minimum: int


@dataclass(frozen=True)
class Budget:
    """Minutes in which something stands (`name`: Line B), shared by the items that need it to stand.

    minutes: (Q,) of each item, 0 where it needs nothing. The sum over the chosen items is at most `available`.
    """

    name: str
    minutes: npt.NDArray[np.float64]
    available: float


@dataclass(frozen=True)
class Problem:
    """Choose items to maximise F(Q) = sum_s w_s (1 - exp(-sum_i A_i(L_i(Q, s)))).

    cells: (Q, S) float32, expected recovered cells of each item in each row, item-major.
    at_source: (Q, S) bool, whether the item's site is a niche of the row (for F_hit).
    weight: (S,) summing to 1. site, room, machine, hygiene_class: (Q,) indices; machine -1 when none is opened.
    tie: (Q,) uint64 from the site's key, device and mode; never the position.
    """

    cells: npt.NDArray[np.float32]
    at_source: npt.NDArray[np.bool_]
    weight: npt.NDArray[np.float64]
    site: IntArray
    room: IntArray
    machine: IntArray
    hygiene_class: IntArray
    minutes: npt.NDArray[np.float64]
    tie: npt.NDArray[np.uint64]
    names: tuple[str, ...]
    """`S014 SP as_is`, for sentences."""
    count: int
    """At most so many samples."""
    minutes_available: float
    """Minutes for items and charges (walking is taken off by the caller)."""
    groups: tuple[Group, ...]
    must: npt.NDArray[np.bool_]
    """(sites,)"""
    never: npt.NDArray[np.bool_]
    """(sites,)"""
    charges: Charges
    past: Past | None
    sigma: float
    unexplained: float
    """eps"""
    hit_share: float = 0.0
    """Share of the objective that counts only samples on the niche itself."""
    mode: IntArray | None = None
    """(Q,) mode of each item; items of one site may be taken together only in one mode. None: one item a site."""
    budgets: tuple[Budget, ...] = ()
    """Kept whatever the hours: no sample is taken at a line that does not stand."""

    def excluded_by(self, item: int) -> npt.NDArray[np.bool_]:
        """Items that taking `item` rules out, shape (Q,): itself and, at its site, every other mode."""
        excluded = self.site == self.site[item]
        if self.mode is not None:
            excluded &= self.mode != self.mode[item]
        excluded[item] = True
        return np.asarray(excluded)


@dataclass(frozen=True)
class Choice:
    """A feasible choice: item indices in the order chosen, with the gain of each and the minutes used."""

    items: tuple[int, ...]
    gains: tuple[float, ...]
    found: float
    """F_find on the planning rows."""
    hit: float
    minutes: float
