"""Mean loads: what the figures say, whatever the spreads and however long the slots."""

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from builders.plants import tiny_plant
from builders.spreads import VISIT, bank_from, loads, setting_of, timeline

from swabwright.spread.blocks import BLOCK, Simulator
from swabwright.spread.events import draw_events
from swabwright.spread.histories import draw_histories, in_copy
from swabwright.spread.spreads import steady

HANDS_1_TO_5 = (f"{1:032x}", f"{5:032x}", "hand")
QUIET = dict.fromkeys(
    [
        f"{prefix}{name}_ln_sd"
        for name, prefixes in {"shedding": ("", "copy_"), "growth": ("", "copy_"), "cleaning": ("", "copy_")}.items()
        for prefix in prefixes
    ]
    + ["die_off_ln_sd"],
    0.0,
)


def one_edge(setting, edge, rate=0.4, fraction=0.01):
    """Only one edge, with a fraction too small for the cap; a niche held constant; every quote an average."""
    names = setting.network.row_names
    streams = tuple(
        replace(
            stream,
            rate_per_8h=rate,
            fraction=fraction,
            on=(names[stream.source], names[stream.targets[0].row], stream.mechanism) == edge,
        )
        for stream in setting.network.streams
        if stream.source < len(names)
    )
    ecology = replace(
        setting.ecology,
        growth=0 * setting.ecology.growth,
        shed=0 * setting.ecology.shed + 1e-3,
        carry_off=0 * setting.ecology.shed,
    )
    mechanisms = tuple(replace(m, rate_mean_one=True, fraction_mean_one=True) for m in setting.mechanisms)
    spreads = replace(setting.spreads, event_size_mean_one=True, dropped_share=0.0, added_share=0.0, copies=800)
    network = replace(setting.network, streams=streams)
    return replace(setting, network=network, ecology=ecology, mechanisms=mechanisms, spreads=replace(spreads, **QUIET))


@pytest.mark.slow
def test_the_mean_load_with_all_spreads_is_the_load_without():
    setting = one_edge(setting_of(), HANDS_1_TO_5)
    wide = loads(bank_from(setting, 16 * BLOCK, workers=2), 1, 5).reshape(2, 800).mean(axis=0)
    certain = replace(setting, spreads=replace(steady(setting.spreads), copies=1))
    sure = loads(bank_from(certain, 16 * BLOCK, workers=2), 1, 5)
    error = np.hypot(wide.std() / np.sqrt(800), sure.std() / np.sqrt(16 * BLOCK))
    assert abs(wide.mean() - sure.mean()) < 3 * error
    assert error < 0.2 * sure.mean()


def in_slots_of(hours, setting):
    """The same setting with every slot cut into pieces of so many hours."""
    clock = setting.clock
    parts = (clock.hours // hours).astype(int)
    offset = np.concatenate([np.arange(n) for n in parts])
    of = np.repeat(np.arange(clock.slots), parts)
    last = np.cumsum(parts) - 1
    empty = tuple(clock.cleanings[slot] if n in last else () for n, slot in enumerate(of))
    return replace(
        setting,
        clock=replace(
            clock,
            unit=clock.unit[of] + offset * (hours // 2),
            hours=np.full(len(of), float(hours)),
            running=clock.running[of] / parts[of][:, None],
            day=clock.day[of],
            read=last[clock.read].astype(np.int32),
            cleanings=empty,
        ),
    )


def day_long(setting):
    """One day-long slot after another, every clock running a third of it, no cleaning: read at the end of the last."""
    clock, days = setting.clock, 6
    return replace(
        setting,
        clock=replace(
            clock,
            unit=clock.unit[0] + 12 * np.arange(days),
            hours=np.full(days, 24.0),
            running=np.full((days, len(clock.clocks)), 24.0),
            day=np.full(days, -1, np.int32),
            read=np.full(1, days - 1, np.int32),
            cleanings=((),) * days,
        ),
    )


def without_spread(setting):
    return replace(setting, spreads=replace(steady(setting.spreads), copies=1))


def means_of(setting):
    bank = bank_from(setting, 20 * BLOCK, workers=2)
    return [loads(bank, 1, row).mean() for row in (1, 5)]


@pytest.mark.slow
def test_mean_loads_on_wet_surfaces_agree_for_slots_of_two_and_eight_hours():
    whole = without_spread(day_long(one_edge(setting_of(), HANDS_1_TO_5, rate=2.0, fraction=0.1)))
    wet = replace(whole, ecology=replace(whole.ecology, fast_survival=np.ones_like(whole.ecology.fast_survival)))
    np.testing.assert_allclose(means_of(in_slots_of(8, wet)), means_of(in_slots_of(2, wet)), rtol=0.05)


@pytest.mark.slow
def test_the_slots_of_a_bank_do_as_well_as_short_ones_throughout():
    # The fast phase of die-off comes at the end of a slot, after reading: only slots near the visit need be short.
    usual = without_spread(one_edge(setting_of(), HANDS_1_TO_5, rate=20.0, fraction=0.02))
    assert set(usual.clock.hours) == {2.0, 8.0}
    np.testing.assert_allclose(means_of(usual), means_of(in_slots_of(2, usual)), rtol=0.05)


@pytest.mark.parametrize("hours", [2, 8, 24])
def test_what_stays_after_a_day_is_the_same_for_any_slots(hours):
    # 3 events of mean hazard -log(1 - 0.1) a shift, 9 a day: the mean stay is exp(-9 x 0.1) = 0.4066.
    setting = in_slots_of(hours, day_long(one_edge(setting_of(), HANDS_1_TO_5, rate=3.0, fraction=0.1)))
    setting = replace(setting, spreads=replace(steady(setting.spreads), copies=1))
    simulator = Simulator(setting, "A")
    copy, lanes, streams = simulator.copies[0]
    numbers = np.arange(700)
    draws = in_copy(draw_histories(setting, "A", numbers), numbers, copy)
    per_day = 24 // hours
    stays = []
    for e in range(len(numbers)):
        events = draw_events(
            lanes, streams, simulator.slots, simulator.tuning, draws.rate[e], draws.fraction[e], draws.history[e]
        )
        hazard = np.add.reduceat(np.append(events.eta, 0.0), np.minimum(events.first[:-1], len(events.eta)))
        hazard[events.first[:-1] == events.first[1:]] = 0.0
        stays.append(np.exp(-hazard.reshape(-1, per_day).sum(axis=1)))
    assert np.mean(stays) == pytest.approx(np.exp(-9 * 0.1), rel=0.01)


def test_more_trips_carry_more():
    few = setting_of(tiny_plant())
    route = tiny_plant().routes[0].model_copy(update={"trips_per_hour": 40.0})
    many = setting_of(tiny_plant(routes=(route,)))
    assert sum(s.rate_per_8h for s in many.network.streams if s.mechanism == "wheel") == pytest.approx(
        10 * sum(s.rate_per_8h for s in few.network.streams if s.mechanism == "wheel")
    )


def test_before_founding_there_is_neither_niche_nor_load():
    late = VISIT + timedelta(days=0)
    setting = setting_of(when=timeline(VISIT - timedelta(days=60), VISIT, founded_by=late))
    bank = bank_from(setting, 200)
    young = ~bank.founded_before[:, 0]
    assert 0.3 < young[:, 0].mean() < 0.7
    assert bank.niche[:, 0][young].max() == 0.0
    assert loads(bank, 1, 1)[young[:, bank.source_names.index(f"{1:032x}")]].max() == 0.0
