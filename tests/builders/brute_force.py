"""Slow and plain answers to check the trade's statistics against: every case counted, none by formula."""

from itertools import combinations, product
from math import comb, prod


def positives_by_counting(size, contaminated, samples, test):
    """The chance of each number of positives, by every sample that can be drawn and every result it can give."""
    chances = [0.0] * (samples + 1)
    for drawn in combinations(range(size), samples):
        positive = [test.unit_sensitivity if unit < contaminated else test.false_positive for unit in drawn]
        for results in product([0, 1], repeat=samples):
            seen = prod(p if result else 1 - p for p, result in zip(positive, results, strict=True))
            chances[sum(results)] += seen / comb(size, samples)
    return chances


def binomial_above(cut_point, trials, chance):
    """P(X > cut-point), term by term."""
    terms = (comb(trials, x) * chance**x * (1 - chance) ** (trials - x) for x in range(cut_point + 1))
    return 1.0 - sum(terms)


def first_that_reaches(aim, reach, sizes):
    """The first size that reaches the aim with any cut-point, by looking at each of them."""
    for size in sizes:
        allowed = range(size + 1) if aim.cut_point is None else [aim.cut_point]
        if any(aim.met(*reach(size, cut_point)) for cut_point in allowed):
            return size
    return None
