"""Cuts: linear over-estimates of the chance of finding, one per point, summed over all rows.

For a row and any two disjoint sets T and B of items, with m the chance that T misses,
    f(Q) <= 1 - m + m (sum over B of D_q x_q + 1 - exp(-sum over the rest of a_q x_q)),
because the row's chance f is submodular. B = all items outside T is the envelope of Nemhauser and Wolsey (Discrete
Applied Mathematics 1981;1:1), T and B empty the smooth relaxation; each row takes the mixture that is tightest at the
point, and its tangent there.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from numba import njit

from swabwright.planning.problem import Problem

FloatArray = npt.NDArray[np.float32]
Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

MOST_COVERED = 4
"""Items that a row's T may hold."""
SMOOTH_FROM = np.array([0.0, 0.4, 0.6, 0.75, 0.9, 2.0])
"""Items whose straight term is at least this share of their smooth term stay smooth; each is tried, the best taken."""
NEGLIGIBLE = 1e-4
"""A chance so small stays a straight term: nothing is lost and most of the work is saved."""
SURE = np.float32(1.0 - 1e-7)
SMOOTH, STRAIGHT, COVERED, FREE = 0, 1, 2, 3
ROW_GROUPS = 16
"""Rows are cut in so many groups: more cuts a round, fewer rounds."""


@dataclass(frozen=True)
class Cut:
    """Found in each group of rows <= constant + coefficients . x for every allowed choice x.

    constant: (groups,). coefficients: (groups, Q). The groups together are all rows.
    """

    constant: Array
    coefficients: Array

    def at(self, point: Array) -> float:
        """The over-estimate of the chance of finding at a point."""
        return float(self.constant.sum() + (self.coefficients @ point).sum())


class CutMaker:
    """Makes cuts for one problem; holds the rows in which anything can be found."""

    def __init__(self, problem: Problem, chance: FloatArray) -> None:
        best = chance.argmax(axis=0)
        live = np.flatnonzero(chance[best, np.arange(best.size)] > 0)
        group = problem.site[best[live]] % ROW_GROUPS
        live = live[np.argsort(group, kind="stable")]
        self.bounds = np.searchsorted(np.sort(group), np.arange(ROW_GROUPS + 1))
        self.chance = np.ascontiguousarray(chance[:, live])
        self.weight = problem.weight[live]
        self.exponent = -np.log1p(-np.minimum(self.chance, SURE))
        self.mates = _mates(problem)
        self.open_items = np.flatnonzero(~problem.never[problem.site])

    def cut_at(self, point: Array, wanted: IntArray | None = None) -> Cut:
        """The tightest cut that this family has at a point x in [0, 1]^Q, one part per group of rows.

        wanted: the only items that still count; a cut made with fewer than all holds only where the others are out.
        """
        wanted = self.open_items if wanted is None else wanted
        active = np.flatnonzero(point > 1e-9)
        rows = self.weight.size
        shape = _Shape(np.empty(rows), np.empty(rows), np.empty((rows, active.size), dtype=np.int8))
        position = np.full(point.size, -1, dtype=np.int64)
        position[active] = np.arange(active.size)
        constant = np.zeros(ROW_GROUPS)
        coefficients = np.zeros((ROW_GROUPS, point.size))
        at, sums = (self.weight, active, point[active]), (self.bounds, constant)
        _shape_rows(self.chance, self.exponent, at, shape.arrays, sums)
        _add_up(self.chance, self.exponent, (position, self.bounds, wanted), shape.arrays, coefficients)
        places = (active, position, self.mates, self.bounds)
        _exclude_mates(self.chance, self.exponent, places, shape.arrays, coefficients)
        return Cut(constant, coefficients)


@dataclass(frozen=True)
class _Shape:
    """Per row: weight x miss of T, the smooth part's remainder, and what each active item is (S, active)."""

    missed: Array
    remainder: Array
    kind: npt.NDArray[np.int8]

    @property
    def arrays(self) -> tuple[Array, Array, npt.NDArray[np.int8]]:
        return self.missed, self.remainder, self.kind


def _mates(problem: Problem) -> IntArray:
    """Items that can never be taken together with each item (other modes of its site), -1 filled, (Q, most)."""
    mates = []
    for item in range(problem.tie.size):
        same = problem.site == problem.site[item]
        if problem.mode is not None:
            same &= problem.mode != problem.mode[item]
        same[item] = False
        mates.append(np.flatnonzero(same))
    out = np.full((len(mates), max((len(row) for row in mates), default=0)), -1, dtype=np.int64)
    for item, row in enumerate(mates):
        out[item, : row.size] = row
    return out


@njit(cache=True, nogil=True)
def _partition(straight, smooth, kind, rest):  # type: ignore[no-untyped-def]  # compiled helper
    """Split one row's items into smooth and straight terms; returns the product and the sum of the best split."""
    best, best_product, best_sum, best_from = -np.inf, 1.0, 0.0, 0.0
    for threshold in SMOOTH_FROM:
        product, total = 1.0, rest
        for j in range(straight.shape[0]):
            if straight[j] >= threshold * (1.0 - smooth[j]):
                product *= smooth[j]
            else:
                total += straight[j]
        if product - total > best:
            best, best_product, best_sum, best_from = product - total, product, total, threshold
    for j in range(straight.shape[0]):
        kind[j] = SMOOTH if straight[j] >= best_from * (1.0 - smooth[j]) else STRAIGHT
    return best_product, best_sum


@njit(cache=True, nogil=True)
def _cover(finds, straight, smooth, kind, product, total):  # type: ignore[no-untyped-def]  # compiled helper
    """Move up to MOST_COVERED items into T, each the one that tightens the row most; returns miss, product, sum."""
    miss = 1.0
    for _ in range(MOST_COVERED):
        best, chosen = product - total, -1
        for j in range(finds.shape[0]):
            if kind[j] == STRAIGHT:
                inner = (1.0 - finds[j]) * (product - total + straight[j])
            elif kind[j] == SMOOTH:
                inner = (1.0 - finds[j]) * (product / smooth[j] - total)
            else:
                continue
            if inner > best + 1e-12:
                best, chosen = inner, j
        if chosen < 0:
            break
        if kind[chosen] == STRAIGHT:
            total -= straight[chosen]
        else:
            product /= smooth[chosen]
        kind[chosen] = COVERED
        miss *= 1.0 - finds[chosen]
    return miss, product, total


@njit(cache=True, nogil=True)
def _gather(chance, exponent, at, row, local):  # type: ignore[no-untyped-def]  # compiled helper
    """Collect the active items that matter in one row; returns how many, and the sum of the rest, kept straight."""
    _weight, active, point = at
    finds, straight, smooth, which = local
    many, rest = 0, 0.0
    for j in range(active.size):
        find = chance[active[j], row]
        if find < NEGLIGIBLE:
            rest += find * point[j]
            continue
        finds[many], straight[many], which[many] = find, find * point[j], j
        smooth[many] = np.exp(-exponent[active[j], row] * point[j])
        many += 1
    return many, rest


@njit(cache=True, nogil=True)
def _shape_rows(chance, exponent, at, shape, sums):  # type: ignore[no-untyped-def]  # compiled helper
    weight, active, _point = at
    bounds, constant = sums
    missed, remainder, kind = shape
    size = active.size
    finds, straight, smooth, which = np.empty(size), np.empty(size), np.empty(size), np.empty(size, np.int64)
    what = np.empty(size, np.int8)
    kind[:] = STRAIGHT
    for group in range(constant.size):
        for row in range(bounds[group], bounds[group + 1]):
            many, rest = _gather(chance, exponent, at, row, (finds, straight, smooth, which))
            product, total = _partition(straight[:many], smooth[:many], what[:many], rest)
            miss, product, total = _cover(finds[:many], straight[:many], smooth[:many], what[:many], product, total)
            if product - total <= 0.0:
                miss = 0.0
            load = 0.0
            for j in range(many):
                kind[row, which[j]] = what[j]
                if what[j] == SMOOTH:
                    load -= np.log(smooth[j])
            missed[row] = weight[row] * miss
            remainder[row] = product
            constant[group] += weight[row] - missed[row] * product * (1.0 + load)


@njit(inline="always", nogil=True)
def _term(what, find, bent):  # type: ignore[no-untyped-def]  # compiled helper
    """What one unit of an item adds in a row: straight, smooth, nothing when covered, the less when it is free."""
    if what == SMOOTH:
        return bent
    if what == STRAIGHT:
        return find
    return 0.0 if what == COVERED else min(find, bent)


@njit(nogil=True, fastmath={"reassoc", "contract", "nnan", "nsz"})
def _sum_free(missed, remainder, chance, exponent):  # type: ignore[no-untyped-def]  # compiled helper
    total = 0.0
    for row in range(missed.shape[0]):
        total += missed[row] * min(np.float64(chance[row]), remainder[row] * exponent[row])
    return total


@njit(cache=True, nogil=True)
def _sum_active(missed, remainder, chance, exponent, kind):  # type: ignore[no-untyped-def]  # compiled helper
    total = 0.0
    for row in range(missed.shape[0]):
        total += missed[row] * _term(kind[row], chance[row], remainder[row] * exponent[row])
    return total


@njit(cache=True, nogil=True)
def _add_up(chance, exponent, places, shape, coefficients):  # type: ignore[no-untyped-def]  # compiled helper
    position, bounds, wanted = places
    missed, remainder, kind = shape
    for item in wanted:
        j = position[item]
        for group in range(coefficients.shape[0]):
            low, high = bounds[group], bounds[group + 1]
            left, rest = missed[low:high], remainder[low:high]
            find, bend = chance[item, low:high], exponent[item, low:high]
            if j < 0:
                coefficients[group, item] = _sum_free(left, rest, find, bend)
            else:
                coefficients[group, item] = _sum_active(left, rest, find, bend, kind[low:high, j])


@njit(cache=True, nogil=True)
def _exclude_mates(chance, exponent, places, shape, coefficients):  # type: ignore[no-untyped-def]  # compiled helper
    """An item that excludes one in T can only replace it, so it adds no more than it is better."""
    active, position, mates, bounds = places
    missed, remainder, kind = shape
    for group in range(coefficients.shape[0]):
        for j in range(active.size):
            for mate in mates[active[j]]:
                if mate < 0:
                    continue
                for row in range(bounds[group], bounds[group + 1]):
                    if kind[row, j] != COVERED or missed[row] == 0.0:
                        continue
                    held, other = chance[active[j], row], chance[mate, row]
                    what = FREE if position[mate] < 0 else kind[row, position[mate]]
                    term = _term(what, other, remainder[row] * exponent[mate, row])
                    better = max(0.0, (other - held) / (1.0 - held)) if held < 1.0 else 0.0
                    coefficients[group, mate] -= missed[row] * max(0.0, term - better)
