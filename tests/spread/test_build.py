"""A bank as a whole: its shapes, its cap, its progress, what it says of itself."""

from dataclasses import replace

import numpy as np
import pytest
from builders.plants import tiny_plant
from builders.spreads import VISIT, bank_from, loads, setting_of, timeline

from swabwright.errors import SwabwrightError
from swabwright.spread.build import Workshop, build_bank
from swabwright.spread.mechanisms import MECHANISMS
from swabwright.spread.setting import CUTOFF


@pytest.fixture(scope="module")
def bank():
    return bank_from(setting_of(when=timeline(VISIT.replace(day=2), VISIT)), 120)


def test_every_part_has_the_shape_it_promises(bank):
    rows, sources = len(bank.row_names), len(bank.source_names)
    assert (rows, sources, bank.histories) == (8, 9, 120)
    assert bank.offsets.shape == (120, 2, sources + 1)
    assert bank.niche.shape == bank.founded_before.shape == (120, 2, sources)
    assert bank.product.shape == (120, 1, 1, sources)
    assert bank.offsets[-1, -1, -1] == len(bank.code) == len(bank.row_index)


def test_entries_of_a_column_are_rows_in_order_each_above_the_cutoff(bank):
    for e in range(0, 120, 7):
        for source in range(len(bank.source_names)):
            column = bank.column(e, 1, source)
            assert (np.diff(column.rows.astype(int)) > 0).all()
            assert (column.loads > CUTOFF * 0.999).all()


def test_a_niche_puts_most_on_its_own_site(bank):
    for number in (1, 3, 5):
        own = loads(bank, number, number, occasion=1).mean()
        assert own >= max(loads(bank, number, other, occasion=1).mean() for other in range(1, 7))
        assert own > 0


def test_multipliers_of_every_mechanism_are_kept_by_name(bank):
    names = {f"{kind}.{name}" for kind in ("rate", "fraction") for name in MECHANISMS}
    assert set(bank.multipliers) == names | {"shedding", "growth", "cleaning", "die_off"}
    assert all(values.shape == (120,) and (values > 0).all() for values in bank.multipliers.values())


def test_more_shedding_means_more_on_the_surface(bank):
    own = sum(loads(bank, number, number, occasion=1) for number in range(1, 7))
    assert np.corrcoef(np.log(bank.multipliers["shedding"]), np.log(own))[0, 1] > 0.3


def test_a_bank_too_large_for_memory_is_refused_with_what_to_do():
    with pytest.raises(SwabwrightError, match=r"GB of memory, more than .* ask for fewer histories"):
        bank_from(setting_of(), 100, largest_bytes=1000)


def test_progress_is_told_in_histories():
    told = []
    workshop = Workshop(workers=1, progress=lambda done, of: told.append((done, of)))
    build_bank(setting_of(), bank="A", histories=230, workshop=workshop)
    assert told == [(100, 230), (200, 230), (230, 230)]


def test_loads_too_large_for_the_code_are_counted():
    setting = setting_of()
    flooded = replace(setting, ecology=replace(setting.ecology, emitted=setting.ecology.emitted * 1e6))
    assert bank_from(flooded).saturated > 0
    assert bank_from(setting).saturated == 0


def test_device_and_prior_figures_are_no_part_of_the_key():
    setting = setting_of()
    named = tiny_plant(name="Another name")
    assert setting_of(named).digest() == setting.digest()
    other_area = tuple(s.model_copy(update={"devices": ("SP",), "note": "wet"}) for s in tiny_plant().sites)
    assert setting_of(tiny_plant(sites=other_area)).digest() == setting.digest()
