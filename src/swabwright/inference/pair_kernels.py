"""Compiled: hypotheses with two niches, from what each niche alone does; only where both reach a site is work left.

Arrays are taken out of their tuples once, before the loops, and the loop over pairs calls nothing that takes them:
handing arrays on costs more than the pair.
"""

# mypy: disable-error-code="no-untyped-def"

import numpy as np
from numba import njit

from swabwright.detection.phi import phi_at
from swabwright.inference.term_kernels import ln_by_table, ln_ratio


@njit(cache=True, nogil=True)
def fill_factors(facts, factors):
    """Write the product of all facts in every row; (rows,)."""
    implicated, half, product, tables = facts
    factors[:] = 1.0
    for f in range(implicated.shape[0]):
        for row in range(factors.shape[0]):
            factors[row] *= implicated[f, row] / (implicated[f, row] + half[f])
    for f in range(product.shape[0]):
        for row in range(factors.shape[0]):
            factors[row] *= phi_at(tables[f], product[f, row])


@njit(cache=True, nogil=True)
def mended(spec, entries, a, b, sums):
    """Log ratio at a site that both niches reach, less that of each alone; a and b are entries of that site."""
    _first, site_of, silent, found_at, found, ln = entries
    site = site_of[a]
    size = spec.first[site + 1] - spec.first[site]
    for d in range(size):
        sums[d] = found[found_at[a] + d] + found[found_at[b] + d]
    return ln_ratio(spec, site, silent[a] + silent[b], sums[:size]) - ln[a] - ln[b]


@njit(cache=True, nogil=True)
def fill_pair_weights(e, terms, facts, design, out):
    """Write the weights of all pairs that one history reads; returns how many.

    terms: the results of the sites, the entries, and the ratio of every row, which is the product of its sites' ratios.
    out: first sources, second sources, weights, and room for sums. Each of two niches may be called the first, so a
    pair counts twice; it stands for all histories, of which only those whose number fits its turn read it.
    """
    spec, entries, chance = terms
    first, site_of, silent, _found_at, _found, ln_alone = entries
    by_table, constant, slope, ln_nothing, phi = spec.by_table, spec.constant, spec.slope, spec.ln_nothing, spec.phi
    implicated, half, product, tables = facts
    weight, turn, order, starts, histories = design
    firsts, seconds, weights, sums = out
    sources, turns = weight.shape[0], starts.shape[0] - 1
    base, count = e * sources, 0
    scale = 2.0 / ((histories - 1 - e % turns) // turns + 1)
    for a in range(sources):
        own = scale * weight[a] * chance[base + a]
        wanted = (2 * turns - turn[a] - e % turns) % turns
        for at in range(starts[wanted], starts[wanted + 1]):
            b = order[at]
            if b <= a or own * weight[b] <= 0.0:
                continue
            value = own * weight[b] * chance[base + b]
            for f in range(half.shape[0]):
                load = implicated[f, base + a] + implicated[f, base + b]
                value *= load / (load + half[f])
            for f in range(product.shape[0]):
                value *= phi_at(tables[f], product[f, base + a] + product[f, base + b])
            one, other, ln = first[base + a], first[base + b], 0.0
            while one < first[base + a + 1] and other < first[base + b + 1]:
                site, other_site = site_of[one], site_of[other]
                if site == other_site and by_table[site]:
                    both = silent[one] + silent[other]
                    ln += ln_by_table(phi, (constant[site], slope[site], ln_nothing[site]), both)
                    ln -= ln_alone[one] + ln_alone[other]
                elif site == other_site:
                    ln += mended(spec, entries, one, other, sums)
                one += site <= other_site
                other += other_site <= site
            firsts[count], seconds[count] = a, b
            weights[count] = value * np.exp(ln) if ln != 0.0 else value
            count += 1
    return count


@njit(cache=True, nogil=True)
def room_for_pairs(design, terms):
    """Room for the pairs of one history: first sources, second sources, weights, sums at one site."""
    starts = design[3]
    most = design[0].shape[0] * np.diff(starts).max()
    singles = max(1, terms[0].false_positive.shape[0])
    return np.empty(most, np.int32), np.empty(most, np.int32), np.empty(most), np.empty(singles)


@njit(cache=True, nogil=True)
def weigh_pairs(span, terms, facts, design, out):
    """Add the weight of every pair of some histories to its sources by history, and to the table of pairs.

    A pair is read in one history of `turns`, turn by turn, so that pairs share histories as little as they can.
    """
    by_history, by_pair = out
    room = room_for_pairs(design, terms)
    firsts, seconds, weights, _sums = room
    for e in range(span[0], span[1]):
        for n in range(fill_pair_weights(e, terms, facts, design, room)):
            by_history[e, firsts[n]] += weights[n]
            by_history[e, seconds[n]] += weights[n]
            by_pair[firsts[n], seconds[n]] += weights[n]


@njit(cache=True, nogil=True)
def pick_pairs(span, terms, facts, design, points, out):
    """Write history and sources of the pair at each point of the running sum of weights; returns how many were met.

    points: rising, in units of weight, from 0 on.
    """
    history, sources_of = out
    room = room_for_pairs(design, terms)
    firsts, seconds, weights, _sums = room
    running, met = 0.0, 0
    for e in range(span[0], span[1]):
        for n in range(fill_pair_weights(e, terms, facts, design, room)):
            running += weights[n]
            while met < points.shape[0] and points[met] < running:
                history[met], sources_of[met, 0], sources_of[met, 1] = e, firsts[n], seconds[n]
                met += 1
    return met
