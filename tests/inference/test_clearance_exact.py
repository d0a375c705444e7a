"""The chance that it is gone against an enumeration by loops that shares no line with it."""

from itertools import product

import numpy as np
import pytest
from builders.aftermaths import RATES, begun, round_at, three_banks

from swabwright.belief.rows import HypothesisRows
from swabwright.detection.draws import item_draws
from swabwright.detection.model import beta_moment, detection_model
from swabwright.inference.clearance_fates import Treated

HISTORIES = 4
CHANCE = {0: 0.6, 1: 0.2}
SETS = ((0,), (1,), (2,), (0, 1), (0, 2), (1, 2))
Z = np.linspace(-8, 8, 801)
SHARE = np.exp(-0.5 * Z**2) / np.exp(-0.5 * Z**2).sum()


@pytest.fixture(scope="module")
def banks():
    return three_banks(histories=HISTORIES)


def cells(known, history, source, item):
    """What one niche puts into a sample, from the bank's own columns."""
    draws = item_draws(known.bank, known.setting.plant, known.setting.catalogue, (item,))
    column = known.bank.column(history, item.occasion, source)
    spread = item.area_fraction * sum(column.loads[column.rows == item.row])
    own = draws.reach[0, history] * known.bank.niche[history, item.occasion, source] if source == item.row else 0.0
    return draws.recovery[history] * 10.0 ** draws.log10_capacity[history, source] * item.recovery * (spread + own)


def chance_of(results, loads, model):
    """Chance of one site's results, on a fine grid of what the model misses there."""
    found = np.array([one.detected for one in results], bool)
    each = np.exp(-np.array(loads)[:, None] * np.exp(model.sigma * Z)) * (1 - RATES["visit-0"])
    explained = (np.where(found[:, None], 1 - each, each).prod(axis=0) * SHARE).sum()
    background = beta_moment(int(found.sum()), int((~found).sum()), model.background_a, model.background_b)
    return model.unexplained * background + (1 - model.unexplained) * explained


def likelihood(banks, history, niches, results, model):
    """Chance of all results where each niche, by source, is read in a bank of its own."""
    whole = 1.0
    for row in sorted({one.item.row for one in results}):
        own = [one for one in results if one.item.row == row]
        loads = [sum(cells(banks[at], history, source, one.item) for source, at in niches.items()) for one in own]
        whole *= chance_of(own, loads, model)
    return whole


def fates(source):
    """Bank and chance of what may have become of a niche."""
    return [(1, CHANCE[source]), (2, 1 - CHANCE[source])] if source in CHANCE else [(0, 1.0)]


def enumerated(banks, past, later, model):
    gone = total = 0.0
    for history, sources in product(range(HISTORIES), SETS):
        before = likelihood(banks, history, dict.fromkeys(sources, 0), past, model)
        for ways in product(
            *([(0, 1.0)] if s not in CHANCE else [(1, CHANCE[s]), (2, 1 - CHANCE[s])] for s in sources)
        ):
            niches = {source: bank for source, (bank, _) in zip(sources, ways, strict=True)}
            after = likelihood(banks, history, niches, (*past, *later), model)
            weight = np.prod([chance for _, chance in ways]) * after / before
            total += weight
            gone += weight * all(bank == 1 for bank in niches.values())
    return gone / total


@pytest.mark.parametrize("found", [(), (1,)])
def test_one_niche_and_two_in_every_state_agree_with_loops(banks, found):
    past = round_at(banks, 0, (0, 1), found=(0,))
    later = (*round_at(banks, 1, (0, 1, 2)), *round_at(banks, 3, (0, 1), found=found))
    sets = np.array([[*one, -1, -1][:3] for one in SETS], np.int32)
    history = np.repeat(np.arange(HISTORIES, dtype=np.int32), len(SETS))
    rows = HypothesisRows(
        history,
        np.tile(sets, (HISTORIES, 1)),
        np.full(len(history), 1 / len(history)),
        banks[0].bank.copy[history],
    )
    treated = [Treated(source, 0, chance) for source, chance in CHANCE.items()]
    made = begun(banks, treated, rows, past).after(later, RATES).chance_gone
    assert made == pytest.approx(enumerated(banks, past, later, detection_model(banks[0].figures)), rel=2e-3)
