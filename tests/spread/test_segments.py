"""An action starts a new segment from what the time before it left, and changes nothing else."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from builders.plants import tiny_plant
from builders.spreads import VISIT, setting_of, timeline

from swabwright.spread.bank import decode
from swabwright.spread.blocks import Simulator
from swabwright.spread.network import ContactNetwork
from swabwright.spread.segments import Action, cut_at, segmented_block

EARLY = VISIT - timedelta(days=3)
NOTHING = Action()


@pytest.fixture(scope="module")
def setting():
    return setting_of(tiny_plant(), timeline(EARLY, VISIT, founded_by=VISIT - timedelta(days=1)))


@pytest.fixture(scope="module")
def middle(setting):
    return int(setting.clock.read[0]) + 4


def test_a_segment_without_an_action_changes_nothing(setting, middle):
    whole = Simulator(setting, "A").block(0)
    before, after = segmented_block(cut_at(setting, middle), [NOTHING], "A", 0)
    np.testing.assert_array_equal(np.concatenate([before.counts, after.counts], axis=1), whole.counts)
    np.testing.assert_array_equal(np.concatenate([before.niche, after.niche], axis=1), whole.niche)
    np.testing.assert_allclose(totals(after), totals(whole, occasion=1), rtol=1e-3)


def totals(block, occasion=0):
    """Summed loads by history at one occasion."""
    per_column = np.add.reduceat(np.append(decode(block.code), 0), np.minimum(starts(block), len(block.code)))
    sums = np.where(block.counts.reshape(-1) > 0, per_column, 0.0).reshape(block.counts.shape)
    return sums[:, occasion].sum(axis=1)


def starts(block):
    counts = block.counts.reshape(-1)
    return np.cumsum(counts) - counts


def test_a_rebuilt_site_has_no_niche_afterwards(setting, middle):
    rebuilt = [0, 1]
    _, after = segmented_block(cut_at(setting, middle), [Action(rebuilt=rebuilt)], "A", 0)
    old = after.founded[:, 0, rebuilt] & (after.niche[:, 0, rebuilt] == 0)
    assert old.mean() > 0.3
    assert after.niche[:, 0, 2:].max() > 0


def test_cleaning_everything_leaves_less(setting, middle):
    everything = list(range(len(setting.network.places)))
    _, as_it_was = segmented_block(cut_at(setting, middle), [NOTHING], "A", 0)
    _, cleaned = segmented_block(cut_at(setting, middle), [Action(everything, 3.0)], "A", 0)
    assert (totals(cleaned) <= totals(as_it_was) * 1.001).all()
    assert totals(cleaned).sum() < totals(as_it_was).sum()


def test_a_closed_way_carries_nothing_from_then_on(setting, middle):
    before, after = cut_at(setting, middle)
    closed: ContactNetwork = replace(
        after.network, streams=tuple(replace(stream, on=False) for stream in after.network.streams)
    )
    everything = list(range(len(setting.network.places)))
    blocks = segmented_block([before, replace(after, network=closed)], [Action(everything, 30.0)], "A", 0)
    rows = blocks[1].row
    sources = np.repeat(np.tile(np.arange(blocks[1].counts.shape[2]), 100), blocks[1].counts.reshape(-1))
    assert len(rows) > 0
    assert (rows == sources).all()
