"""The smallest sample of a finite population: every size looked at, each from the one before."""

from collections.abc import Iterator

import numpy as np
from scipy.stats import binom

from swabwright.detection.statistics.aim import Aim, OutOfReach, reaches
from swabwright.detection.statistics.answer import SampleSize
from swabwright.detection.statistics.arrays import Array, Whole
from swabwright.detection.statistics.finite import FinitePopulation
from swabwright.detection.statistics.hypergeometric import one_more_drawn
from swabwright.detection.statistics.large import as_sample_size
from swabwright.detection.statistics.performance import Performance
from swabwright.detection.statistics.trials import Reached, free_cut_points, none_reaches


def exact_sample_size(aim: Aim, population: FinitePopulation, test: Performance) -> SampleSize:
    """The smallest number of the population's units that reaches the aim, with its cut-point; exact.

    With a free cut-point each size takes the smallest cut-point that keeps the specificity; the sensitivity then rises
    and falls with the size, so that every size up to `largest_sample` is looked at. Errors: ArgumentRefused;
    OutOfReach with the best there is. Source: Cameron and Baldock, Prev Vet Med 1998;34:1-17.
    """
    seen: list[Reached] = []
    for one in every_size(aim, population, test):
        if aim.met(one.system_sensitivity, one.system_specificity):
            return as_sample_size(one, population.prevalence)
        seen.append(one)
    raise OutOfReach(none_reaches(aim, max(seen, key=lambda one: _ranked(one, aim)), len(seen)))


def _ranked(one: Reached, aim: Aim) -> tuple[bool, float]:
    return reaches(one.system_specificity, aim.system_specificity), one.system_sensitivity


def every_size(aim: Aim, population: FinitePopulation, test: Performance) -> Iterator[Reached]:
    """What each sample size reaches, from 1 to the population or the aim's largest_sample, in order.

    Keeps P[k, t], the chance of t positives when k of the sampled units are contaminated; one more uncontaminated unit
    is one more chance of a false positive. Only t up to the largest cut-point is kept: that is all a tail needs.
    """
    most = min(population.size, aim.largest_sample)
    sizes = np.arange(1, most + 1)
    cut_points = _cut_points(aim, sizes, test)
    rows = min(population.contaminated, most) + 1
    table = np.zeros((rows, int(cut_points[-1]) + 1))
    weights = np.zeros(rows)
    table[0, 0] = weights[0] = 1.0
    for size, cut_point in zip(sizes.tolist(), cut_points.tolist(), strict=True):
        _one_more(table, size, test)
        weights = one_more_drawn(weights, size - 1, population.size, population.contaminated)
        missed = float((weights[: size + 1] @ table[: size + 1, : cut_point + 1]).sum())
        specificity = float(binom.cdf(cut_point, size, test.false_positive))
        yield Reached(size, cut_point, min(max(1.0 - missed, 0.0), 1.0), specificity)


def _cut_points(aim: Aim, sizes: Whole, test: Performance) -> Whole:
    if aim.cut_point is not None:
        return np.full(sizes.size, aim.cut_point)
    if test.false_positive == 0.0:
        return np.zeros(sizes.size, dtype=np.int64)
    return free_cut_points(aim, sizes, test.false_positive)


def _one_more(table: Array, size: int, test: Performance) -> None:
    """Add one unit to the sample: a contaminated one gives the row of `size`, an uncontaminated one all rows below."""
    # The new row first: it grows out of the row below as that was before this unit.
    if size < table.shape[0]:
        table[size] = table[size - 1]
        _spread(table[size : size + 1], test.unit_sensitivity)
    if test.false_positive > 0.0:
        _spread(table[:size, : size + 1], test.false_positive)


def _spread(chances: Array, positive: float) -> None:
    """Make `chances` of each number of positives those after one more unit, positive with chance `positive`."""
    moved = positive * chances[:, :-1]
    chances *= 1.0 - positive
    chances[:, 1:] += moved
