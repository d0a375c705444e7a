"""The compiled form and the plain one tell the same history from the same events."""

from datetime import timedelta

import numpy as np
import pytest
from builders.plants import twenty_site_plant
from builders.spreads import VISIT, setting_of, timeline

from swabwright.spread.bank import decode
from swabwright.spread.blocks import Simulator
from swabwright.spread.events import draw_events
from swabwright.spread.histories import draw_histories, in_copy
from swabwright.spread.plain import plain_codes, plain_history
from swabwright.spread.plain_events import plain_events


@pytest.fixture(scope="module")
def parts():
    moments = (VISIT - timedelta(days=20), VISIT - timedelta(hours=4), VISIT)
    simulator = Simulator(setting_of(twenty_site_plant(), timeline(*moments)), "A")
    copy, lanes, streams = simulator.copies[3]
    draws = in_copy(draw_histories(simulator.setting, "A", np.arange(3, 63, 20)), np.arange(3), copy)
    return simulator, lanes, streams, draws


def events_of(form, parts, e=0):
    simulator, lanes, streams, draws = parts
    rate, fraction, history = draws.rate[e], draws.fraction[e], draws.history[e]
    if form == "plain":
        return plain_events((lanes, streams, simulator.slots, simulator.tuning), rate, fraction, int(history))
    return draw_events(lanes, streams, simulator.slots, simulator.tuning, rate, fraction, history)


def plain_of(parts, e):
    simulator, *_, draws = parts
    tables = (simulator.slots, simulator.sources, simulator.tuning)
    return plain_history(events_of("plain", parts, e), tables, draws, e)


def test_both_forms_draw_the_same_events(parts):
    compiled, plain = events_of("compiled", parts), events_of("plain", parts)
    assert len(plain.eta) > 1000
    for one, other in zip(compiled[:3], plain[:3], strict=True):
        np.testing.assert_array_equal(one, other)
    np.testing.assert_allclose(compiled.eta, plain.eta, rtol=1e-7)


def test_both_forms_give_the_same_loads_niches_and_product(parts):
    simulator, *_, draws = parts
    store = simulator.store_of(3, draws)
    start = 0
    for e in range(3):
        plain = plain_of(parts, e)
        size = int(store.counts[e].sum())
        compiled = dense(store, e, start, plain.loads.shape)
        start += size
        assert size > 200
        np.testing.assert_allclose(compiled, plain.loads, rtol=1e-3, atol=1.05 * simulator.tuning.cutoff)
        np.testing.assert_allclose(store.niche[e], plain.niche, rtol=1e-5)
        np.testing.assert_allclose(store.product[e], plain.product, rtol=1e-3, atol=1e-9)


def test_the_plain_form_codes_what_it_found(parts):
    plain = plain_of(parts, 0)
    row, code = plain_codes(plain, cutoff=1e-6)
    kept = plain.loads.transpose(0, 2, 1)[plain.loads.transpose(0, 2, 1) > 1e-6]
    assert len(row) == len(kept) > 100
    np.testing.assert_allclose(decode(code), kept, rtol=2e-4)


def dense(store, e, start, shape):
    """Loads of one history by (occasion, row, source) from the entries of a store."""
    loads = np.zeros(shape)
    for occasion in range(shape[0]):
        for source in range(shape[2]):
            end = start + int(store.counts[e, occasion, source])
            loads[occasion, store.row[start:end], source] = decode(store.code[start:end])
            start = end
    return loads
