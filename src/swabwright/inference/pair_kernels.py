"""Compiled: hypotheses with two niches, from what each niche alone does; only where both reach a site is work left."""

# mypy: disable-error-code="no-untyped-def"

import numpy as np
from numba import njit

from swabwright.detection.phi import phi_at
from swabwright.inference.term_kernels import ln_ratio


@njit(inline="always", nogil=True)
def fact_factor(facts, row, other):
    """The factor of all facts in a row, or in two rows of one history together (other -1: one row alone)."""
    implicated, half, product, tables = facts
    factor = 1.0
    for f in range(implicated.shape[0]):
        load = implicated[f, row] + (implicated[f, other] if other >= 0 else 0.0)
        factor *= load / (load + half[f])
    for f in range(product.shape[0]):
        load = product[f, row] + (product[f, other] if other >= 0 else 0.0)
        factor *= phi_at(tables[f], load)
    return factor


@njit(inline="always", nogil=True)
def together(spec, entries, pair, sums):
    """Log ratio of all results with niches at two sources: both alone, mended at the sites that both reach."""
    first, site_of, silent, found_at, found, ln = entries
    one, other = pair
    a, b = first[one], first[other]
    last_a, last_b = first[one + 1], first[other + 1]
    total = 0.0
    while a < last_a and b < last_b:
        site = site_of[a]
        if site < site_of[b]:
            a += 1
        elif site > site_of[b]:
            b += 1
        else:
            size = spec.first[site + 1] - spec.first[site]
            for d in range(size):
                sums[d] = found[found_at[a] + d] + found[found_at[b] + d]
            total += ln_ratio(spec, site, silent[a] + silent[b], sums[:size]) - ln[a] - ln[b]
            a += 1
            b += 1
    return total


@njit(inline="always", nogil=True)
def pair_weight(base, pair, terms, facts, weight, sums):
    """Weight of niches at two sources in the history that begins at row `base`; 0 where a fact forbids it."""
    spec, entries, total = terms
    a, b = base + pair[0], base + pair[1]
    factor = fact_factor(facts, a, b)
    if factor <= 0.0:
        return 0.0
    # ordered pairs: each of the two niches may be called the first
    both = 2.0 * weight[pair[0]] * weight[pair[1]]
    return both * factor * np.exp(total[a] + total[b] + together(spec, entries, (a, b), sums))


@njit(cache=True, nogil=True)
def weigh_pairs(span, terms, facts, design, out):
    """Add the weight of every pair of some histories to its sources by history, and to the table of pairs.

    A pair is read in one history of `turns`, turn by turn, so that pairs share histories as little as they can.
    """
    weight, turn, order, starts, histories = design
    by_history, by_pair = out
    turns, sources = starts.shape[0] - 1, weight.shape[0]
    sums = np.empty(max(1, terms[0].false_positive.shape[0]))
    for e in range(span[0], span[1]):
        read = (histories - 1 - e % turns) // turns + 1
        for a in range(sources):
            wanted = (2 * turns - turn[a] - e % turns) % turns
            for b in order[starts[wanted] : starts[wanted + 1]]:
                if b > a and weight[a] > 0.0 and weight[b] > 0.0:
                    value = pair_weight(e * sources, (a, b), terms, facts, weight, sums) / read
                    by_history[e, a] += value
                    by_history[e, b] += value
                    by_pair[a, b] += value


@njit(cache=True, nogil=True)
def weigh_singles(span, terms, facts, weight, histories, by_history):
    """Write the weight of every hypothesis with one niche, of some histories; (E, sources)."""
    total = terms[2]
    sources = weight.shape[0]
    for e in range(span[0], span[1]):
        for c in range(sources):
            if weight[c] > 0.0:
                row = e * sources + c
                by_history[e, c] = weight[c] * fact_factor(facts, row, -1) * np.exp(total[row]) / histories


@njit(cache=True, nogil=True)
def pick_pairs(span, terms, facts, design, points, out):
    """Write history and sources of the pair at each point of the running sum of weights; returns how many were met.

    points: rising, in units of weight, from 0 on.
    """
    weight, turn, order, starts, histories = design
    history, sources_of = out
    turns, sources = starts.shape[0] - 1, weight.shape[0]
    sums = np.empty(max(1, terms[0].false_positive.shape[0]))
    running, found = 0.0, 0
    for e in range(span[0], span[1]):
        read = (histories - 1 - e % turns) // turns + 1
        for a in range(sources):
            wanted = (2 * turns - turn[a] - e % turns) % turns
            for b in order[starts[wanted] : starts[wanted + 1]]:
                if b > a and weight[a] > 0.0 and weight[b] > 0.0:
                    running += pair_weight(e * sources, (a, b), terms, facts, weight, sums) / read
                while found < points.shape[0] and points[found] < running:
                    history[found], sources_of[found, 0], sources_of[found, 1] = e, a, b
                    found += 1
    return found
