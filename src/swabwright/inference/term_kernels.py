"""Compiled: the log ratio of a site's results, and the entries of every hypothesis with one niche."""

# mypy: disable-error-code="no-untyped-def"

from math import lgamma

import numpy as np
from numba import njit

from swabwright.detection.phi import SMALLEST_CHANCE, phi_at


@njit(inline="always", nogil=True)
def ln_by_table(phi, terms, cells):
    """Log ratio of a site whose results the table serves; terms: its constant, slope and log chance of nothing.

    Without an array but the table, so that loops which took the arrays of a site apart before need not call for more.
    """
    constant, slope, ln_nothing = terms
    return np.log(max(constant + slope * phi_at(phi, cells), SMALLEST_CHANCE)) - ln_nothing


@njit(cache=True, nogil=True)
def ln_ratio(spec, site, silent, found):
    """Log of the chance of a site's results with these cells over their chance without one.

    silent: cells of the site's silent results together (of its one result, where the table serves); found: cells of
    each found result that the integral takes one by one.
    """
    constant, slope, ln_nothing = spec.constant[site], spec.slope[site], spec.ln_nothing[site]
    if spec.by_table[site]:
        return ln_by_table(spec.phi, (constant, slope, ln_nothing), silent)
    first, total = spec.first[site], 0.0
    for point in range(spec.z_factor.shape[0]):
        times = spec.z_factor[point]
        chance = spec.z_weight[point] * np.exp(-silent * times)
        for d in range(found.shape[0]):
            chance *= found_chance(spec, first + d, found[d] * times)
        total += chance
    return np.log(max(constant + slope * total, SMALLEST_CHANCE)) - ln_nothing


@njit(cache=True, nogil=True)
def found_chance(spec, d, cells):
    """Chance of one found result with these cells, over the background chance of its count where it has one."""
    wrong = spec.false_positive[d]
    if spec.colonies[d] < 0:
        # expm1 keeps the chance of a detection at a very small load, where 1 - exp would lose it
        return wrong - (1.0 - wrong) * np.expm1(-cells)
    if cells <= 0.0:
        return wrong
    colonies = spec.colonies[d]
    ln_poisson = colonies * np.log(cells) - cells - lgamma(colonies + 1.0)
    return wrong + (1.0 - wrong) * np.exp(ln_poisson - spec.ln_background[d])


@njit(cache=True, nogil=True)
def fill_entries(cells, how, spec, entries):
    """Write the entries of every row of a chunk, in order of row and site, and the sum of each row's log ratios."""
    silent_site, found_place = how
    first, site_of, silent, found_at, found, ln, total = entries
    by_table, constant, slope, ln_nothing, phi = spec.by_table, spec.constant, spec.slope, spec.ln_nothing, spec.phi
    firsts, sites, most = spec.first, by_table.shape[0], spec.first[-1]
    summed, single, touched = np.zeros(sites), np.zeros(most), np.zeros(sites, np.bool_)
    entry, place = 0, 0
    for row in range(cells.shape[1]):
        summed[:] = 0.0
        single[:] = 0.0
        touched[:] = False
        for j in range(cells.shape[0]):
            if cells[j, row] <= 0.0:
                continue
            if found_place[j] >= 0:
                single[found_place[j]] = cells[j, row]
            else:
                summed[silent_site[j]] += cells[j, row]
            touched[silent_site[j]] = True
        first[row] = entry
        for site in range(sites):
            if not touched[site]:
                continue
            site_of[entry], silent[entry], found_at[entry] = site, summed[site], place
            if by_table[site]:
                ln[entry] = ln_by_table(phi, (constant[site], slope[site], ln_nothing[site]), summed[site])
            else:
                d, last = firsts[site], firsts[site + 1]
                found[place : place + last - d] = single[d:last]
                ln[entry] = ln_ratio(spec, site, summed[site], single[d:last])
                place += last - d
            total[row] += ln[entry]
            entry += 1
        first[row + 1] = entry
    return entry, place


@njit(cache=True, nogil=True)
def read_again(spec, entries, sites, total):
    """Write the log ratios of the entries at some sites anew, (n,) bool, and every row's sum."""
    first, site_of, silent, found_at, found, ln = entries
    by_table, constant, slope, ln_nothing, phi = spec.by_table, spec.constant, spec.slope, spec.ln_nothing, spec.phi
    firsts = spec.first
    for row in range(total.shape[0]):
        total[row] = 0.0
        for entry in range(first[row], first[row + 1]):
            site = site_of[entry]
            if sites[site] and by_table[site]:
                ln[entry] = ln_by_table(phi, (constant[site], slope[site], ln_nothing[site]), silent[entry])
            elif sites[site]:
                place, size = found_at[entry], firsts[site + 1] - firsts[site]
                ln[entry] = ln_ratio(spec, site, silent[entry], found[place : place + size])
            total[row] += ln[entry]
