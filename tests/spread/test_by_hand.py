"""Plants so small that what happens in them can be written out in full."""

from dataclasses import replace

import numpy as np
import pytest
from builders.plants import site, tiny_plant
from builders.spreads import bank_from, loads, only, setting_of

from swabwright.spread.blocks import Simulator
from swabwright.spread.events import Events, draw_events
from swabwright.spread.factors import split
from swabwright.spread.histories import draw_histories, in_copy
from swabwright.spread.plain import plain_history
from swabwright.spread.spreads import steady

LN_10 = np.log(10.0)


def quiet(setting, days, slots, **ecology):
    """One shift of 8 h after another: `running` hours each, no cleaning, no day kept, read in the last slot."""
    clock = setting.clock
    usual = dict.fromkeys(("shed", "growth", "cleaning", "die_off", "carry_off", "emitted"), 0.0)
    values = {
        name: np.full_like(setting.ecology.shed, v) for name, v in {**usual, "fast_survival": 1.0, **ecology}.items()
    }
    clock = replace(
        clock,
        unit=clock.unit[0] + 4 * np.arange(slots),
        hours=np.full(slots, 8.0),
        running=np.full((slots, len(clock.clocks)), 8.0),
        day=np.full(slots, -1, np.int32),
        read=np.full(1, slots - 1, np.int32),
        cleanings=((),) * slots,
        days=days,
    )
    spreads = replace(steady(setting.spreads), copies=1, start_level_low=0.5, start_level_high=0.5)
    return replace(setting, clock=clock, spreads=spreads, ecology=replace(setting.ecology, **values))


def replayed(setting, transfers):
    """Loads (rows, sources) after transfers written by hand: (slot, source, target, hazard)."""
    simulator = Simulator(setting, "A")
    copy, *_ = simulator.copies[0]
    draws = in_copy(draw_histories(setting, "A", np.arange(1)), np.arange(1), copy)
    slots = len(setting.clock.hours)
    first = np.searchsorted([t[0] for t in transfers], np.arange(slots + 1)).astype(np.int32)
    columns = [np.array([t[n] for t in transfers], kind) for n, kind in ((1, np.int32), (2, np.int32), (3, float))]
    tables = (simulator.slots, simulator.sources, simulator.tuning)
    return plain_history(Events(first, *columns), tables, draws, 0)


def three_sites(**ecology):
    sites = tuple(site(n, "cracked_floor", (10.0 + n, 2.0)) for n in (1, 2, 3))
    plant = tiny_plant(sites=sites, workstations=(), equipment=(), switched_off=only())
    return quiet(setting_of(plant), (), 2, **ecology)


def test_two_slots_of_a_chain_by_hand():
    # Sites 0, 1, 2 (in canonical order); each niche sheds s = ln 2 x 0.5 of itself a slot, no growth, h0 = 0.5.
    # Slot 0: niche 0 sheds 0.5 (1 - e^-s) = f0 and an event moves hazard 0.4 from 0 to 1: of fresh shed
    #   stays (1 - e^-0.4) / 0.4 = 0.8242, moved 0.1758. Row 0: 0.8242 f0, row 1: 0.1758 f0.
    # Slot 1: an event moves hazard 0.3 from 1 to 2: row 1 keeps e^-0.3 of the old, row 2 gets the rest. Niche 0
    #   sheds f1 = f0 e^-s, which stays on row 0 (no event there).
    shed = 0.5 * np.log(2.0)
    loads = replayed(three_sites(shed=shed), [(0, 0, 1, 0.4), (1, 1, 2, 0.3)]).loads[0][:, 0]
    f0 = 0.5 * (1 - np.exp(-shed))
    stays = (1 - np.exp(-0.4)) / 0.4
    assert loads[0] == pytest.approx(stays * f0 + f0 * np.exp(-shed))
    assert loads[1] == pytest.approx((1 - stays) * f0 * np.exp(-0.3))
    assert loads[2] == pytest.approx((1 - stays) * f0 * (1 - np.exp(-0.3)))


def test_nothing_passes_two_edges_in_one_slot():
    at_once = replayed(three_sites(shed=0.1), [(0, 0, 1, 0.4), (0, 1, 2, 0.3)]).loads[0][:, 0]
    in_turn = replayed(three_sites(shed=0.1), [(0, 0, 1, 0.4), (1, 1, 2, 0.3)]).loads[0][:, 0]
    assert at_once[2] == 0.0
    assert in_turn[2] > 0.0


def test_what_arrives_on_a_dry_surface_dies_at_once_and_then_slowly():
    # After slot 0 what moved to site 1 is cut by phi = 0.1 and by die-off d; the reading in slot 1 sees both once.
    slow = 0.05 * LN_10
    dry = replayed(three_sites(shed=0.1, fast_survival=0.1, die_off=slow), [(0, 0, 1, 0.4)]).loads[0][1, 0]
    wet = replayed(three_sites(shed=0.1), [(0, 0, 1, 0.4)]).loads[0][1, 0]
    assert dry == pytest.approx(wet * 0.1 * np.exp(-slow))


def test_product_takes_its_share_and_the_rest_stays():
    stays, moved, _, _ = split(0.0, 1.0)
    assert (stays, moved) == (pytest.approx(np.exp(-1.0)), pytest.approx(1 - np.exp(-1.0)))


def test_columns_of_the_moves_of_every_slot_add_up_to_one():
    setting = setting_of(tiny_plant())
    simulator = Simulator(setting, "A")
    copy, lanes, streams = simulator.copies[0]
    draws = in_copy(draw_histories(setting, "A", np.arange(1)), np.arange(1), copy)
    events = draw_events(
        lanes, streams, simulator.slots, simulator.tuning, draws.rate[0], draws.fraction[0], draws.history[0]
    )
    for first, last in zip(events.first[:-1], events.first[1:], strict=True):
        hazard = np.bincount(events.source[first:last], weights=events.eta[first:last], minlength=9)
        for eta in hazard[hazard > 0]:
            stays, moved, fresh_stays, fresh_moved = split(eta, 0.0)
            assert stays == pytest.approx(np.exp(-eta))
            assert stays + moved * eta == pytest.approx(1.0)
            assert fresh_stays + fresh_moved * eta == pytest.approx(1.0)


def test_incoming_material_stays_with_the_product_but_for_what_touches():
    bank = bank_from(setting_of(tiny_plant()), 200)
    line = bank.source_names.index("line:line-a")
    emitted = 0.01 * 7.5 / 8  # a day of 7.5 running hours
    assert bank.product[:, 0, 0, line].max() <= emitted * 1.05  # a little of the day before is still on the line
    assert bank.product[:, 0, 0, line].mean() > 0.3 * emitted
    assert loads(bank, "line:line-a", 1).mean() > 0.0


def test_a_niche_far_from_the_line_gives_the_product_less_than_one_on_it():
    bank = bank_from(setting_of(tiny_plant()), 200)
    names = bank.source_names
    given = bank.product[:, 0, 0].mean(axis=0)
    assert given[names.index(f"{1:032x}")] > 10 * given[names.index(f"{6:032x}")]


def test_no_growth_where_it_is_frozen_and_more_where_it_is_warm():
    levels = {}
    for degrees in (-18.0, 4.0, 12.0):
        rooms = tuple(r.model_copy(update={"temperature_c": degrees}) for r in tiny_plant().rooms)
        setting = setting_of(tiny_plant(rooms=rooms))
        levels[degrees] = setting.ecology.growth[0]
    # sqrt(log10 a day) = 0.071 (T + 0.3): 0.0932 a day at 4 C, halved on soil, a third of a day, x ln 10.
    assert levels[-18.0] == 0.0
    assert levels[4.0] == pytest.approx((0.071 * 4.3) ** 2 * 0.5 / 3 * LN_10)
    assert levels[12.0] > 5 * levels[4.0]
