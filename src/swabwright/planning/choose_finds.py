"""What each item alone would find, per row, and what several items at different sites find together."""

from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.detection.factor import conditional_silent
from swabwright.detection.phi import phi_table, silent_chance
from swabwright.planning.problem import Past, Problem

FloatArray = npt.NDArray[np.float32]
Array = npt.NDArray[np.float64]
THIN_ROWS = 4096
"""Rows that screen bundles, swaps and room moves; what they propose is judged on all rows."""


@dataclass(frozen=True)
class Finds:
    """The chance of each item alone to find, item-major, over the rows that the objective counts.

    chance: (Q, R) float32. weight: (R,). R is the number of planning rows S, or 2 S when a part of the objective
    counts only samples on the niche itself: then the second S rows hold those, and the weights are shared out.
    """

    problem: Problem
    chance: FloatArray
    weight: Array

    @cached_property
    def thin(self) -> "Finds":
        """The same table on every n-th row, re-weighted: screens many sets quickly, never judges one."""
        rows = self.problem.weight.size
        if rows <= THIN_ROWS:
            return self
        return self.on_rows((np.arange(THIN_ROWS) * rows) // THIN_ROWS)

    def on_rows(self, rows: npt.NDArray[np.int64]) -> "Finds":
        """The same table on some of the planning rows, weights made to sum to 1 again."""
        problem = self.problem
        few = replace(
            problem,
            cells=problem.cells[:, rows],
            at_source=problem.at_source[:, rows],
            weight=problem.weight[rows] / problem.weight[rows].sum(),
            past=None if problem.past is None else problem.past.on_rows(rows),
        )
        return prepare(few)

    def further(self, taken: Sequence[int], item: int) -> Array:
        """Chance per row that `item` finds where the items `taken` of the same site found nothing."""
        before = self._silent([*taken])
        after = self._silent([*taken, item])
        return np.asarray(1.0 - after / before)

    def _silent(self, items: list[int]) -> Array:
        problem = self.problem
        cells = problem.cells[items].sum(axis=0)
        silent = silent_at_site(problem, int(problem.site[items[0]]), cells)
        if problem.hit_share == 0.0:
            return silent
        masked = (problem.cells[items] * problem.at_source[items]).sum(axis=0)
        return np.concatenate([silent, silent_at_site(problem, int(problem.site[items[0]]), masked)])


def resampled(finds: Finds, count: int) -> Finds:
    """The table on at most `count` rows drawn in proportion to their weight, each weighted by how often it was met.

    Systematic resampling: for searches that look at many choices; the choice they end at is judged on all rows.
    """
    weight = finds.problem.weight
    if weight.size <= count:
        return finds
    places = np.searchsorted(np.cumsum(weight), (np.arange(count) + 0.5) / count * weight.sum())
    rows, times = np.unique(np.minimum(places, weight.size - 1), return_counts=True)
    few = finds.on_rows(rows)
    shares = times / count
    share = finds.problem.hit_share
    both = shares if share == 0.0 else np.concatenate([(1.0 - share) * shares, share * shares])
    return Finds(replace(few.problem, weight=shares), few.chance, both)


def prepare(problem: Problem) -> Finds:
    """The table of single chances that every search uses; made once for a problem and its small changes."""
    rows = problem.weight.shape[0]
    both = problem.hit_share > 0.0
    chance = np.empty((len(problem.names), rows * (2 if both else 1)), dtype=np.float32)
    _fill_finds(phi_table(problem.sigma), problem.cells, problem.unexplained, chance)
    _condition_on_past(problem, chance)
    if not both:
        return Finds(problem, chance, problem.weight)
    np.multiply(chance[:, :rows], problem.at_source, out=chance[:, rows:])
    share = problem.hit_share
    return Finds(problem, chance, np.concatenate([(1.0 - share) * problem.weight, share * problem.weight]))


def _condition_on_past(problem: Problem, chance: FloatArray) -> None:
    if problem.past is None:
        return
    rows = problem.weight.shape[0]
    for item, site in enumerate(problem.site.tolist()):
        if site in problem.past.at_site:
            chance[item, :rows] = 1.0 - silent_at_site(problem, site, problem.cells[item])


def silent_at_site(problem: Problem, site: int, cells: FloatArray) -> Array:
    """Chance per row that items with summed expected cells at one site find nothing, given its earlier results."""
    if problem.past is not None and site in problem.past.at_site:
        return conditional_silent(problem.past.at_site[site], cells, problem.past.model)
    silent = np.empty(cells.shape[0], dtype=np.float64)
    _fill_silent(phi_table(problem.sigma), cells, problem.unexplained, silent)
    return silent


def evaluate(
    problem: Problem, items: Sequence[int], cells: FloatArray | None = None, past: Past | None = None
) -> Array:
    """Chance of finding per row, shape (S,), with these items all taken.

    cells: (len(items), S) of the same items on other rows, say those of the second bank, with the earlier results'
    cells on those rows in `past` if there are any; without them the planning rows. Cells are summed over a site's
    items, chances multiplied over sites: P(no find) = exp(-sum of A_i(L_i)).
    """
    last = deque(prefix_finds(problem, items, cells, past), maxlen=1)
    return last[0] if last else np.zeros(problem.cells.shape[1] if cells is None else cells.shape[1])


def prefix_finds(
    problem: Problem, items: Sequence[int], cells: FloatArray | None = None, past: Past | None = None
) -> Iterator[Array]:
    """Chance of finding per row, shape (S,), after each further item; arguments as for `evaluate`."""
    loads = problem.cells[list(items)] if cells is None else cells
    if past is not None:
        problem = replace(problem, past=past)
    at: dict[int, FloatArray] = {}
    silent = np.ones(loads.shape[1])
    for item, load in zip(items, loads, strict=True):
        site = int(problem.site[item])
        known = site in at
        at[site] = at[site] + load if known else load
        if known:
            silent = np.prod([silent_at_site(problem, place, total) for place, total in at.items()], axis=0)
        else:
            silent = silent * silent_at_site(problem, site, load)
        yield 1.0 - silent


def evaluate_hits(problem: Problem, items: Sequence[int]) -> Array:
    """Chance per row that a sample sits on the niche itself and finds it, shape (S,)."""
    chosen = list(items)
    return evaluate(problem, chosen, problem.cells[chosen] * problem.at_source[chosen])


@njit(cache=True, nogil=True)
def _fill_finds(table: Array, cells: FloatArray, unexplained: float, out: FloatArray) -> None:
    for item in range(cells.shape[0]):
        for row in range(cells.shape[1]):
            load = cells[item, row]
            out[item, row] = 1.0 - silent_chance(table, load, unexplained) if load > 0.0 else 0.0


@njit(cache=True, nogil=True)
def _fill_silent(table: Array, cells: FloatArray, unexplained: float, out: Array) -> None:
    for row in range(cells.shape[0]):
        out[row] = silent_chance(table, cells[row], unexplained)
