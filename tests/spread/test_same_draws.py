"""Nothing that should not matter changes a bank, bit for bit."""

from dataclasses import replace

import numpy as np
import pytest
from builders.plants import site, tiny_plant, twenty_site_plant
from builders.spreads import bank_from, network_of, setting_of

from swabwright.compute.cache import ResultCache
from swabwright.errors import DocumentRefused
from swabwright.plant.sites import new_site_key
from swabwright.spread.blocks import BLOCK


def assert_same(one, other):
    for name in ("row_index", "code", "niche", "product", "founded_before"):
        ours, theirs = getattr(one, name)[: len(getattr(other, name))], getattr(other, name)
        np.testing.assert_array_equal(ours, theirs)
    np.testing.assert_array_equal(one.offsets[: len(other.offsets)], other.offsets)


def test_reordering_sites_changes_nothing():
    plant = twenty_site_plant()
    turned = plant.model_copy(update={"sites": plant.sites[::-1]})
    assert_same(bank_from(setting_of(plant)), bank_from(setting_of(turned)))
    assert setting_of(plant).digest() == setting_of(turned).digest()


def test_renaming_sites_changes_nothing():
    plant = twenty_site_plant()
    renamed = tuple(s.model_copy(update={"code": f"X{n}", "name": f"other {n}"}) for n, s in enumerate(plant.sites))
    codes = {s.code: r.code for s, r in zip(plant.sites, renamed, strict=True)}
    touches = tuple(t.model_copy(update={"site": codes[t.site]}) for t in plant.workstations[0].touches)
    stations = (plant.workstations[0].model_copy(update={"touches": touches}),)
    other = plant.model_copy(update={"sites": renamed, "workstations": stations})
    assert_same(bank_from(setting_of(plant)), bank_from(setting_of(other)))


def test_threads_change_nothing():
    setting = setting_of(twenty_site_plant())
    assert_same(bank_from(setting, 300, workers=3), bank_from(setting, 300, workers=1))


def test_more_histories_leave_the_first_ones_as_they_were():
    setting = setting_of()
    assert_same(bank_from(setting, 250), bank_from(setting, 130))


def test_a_bank_from_the_cache_is_the_bank_itself(tmp_path):
    setting, cache = setting_of(), ResultCache(tmp_path)
    first = bank_from(setting, 200, cache=cache)
    assert len(list(tmp_path.glob("*.arrays"))) == 200 // BLOCK
    assert_same(bank_from(setting, 200, cache=cache), first)


def test_appending_to_a_cached_bank_computes_only_what_is_new(tmp_path):
    setting, cache = setting_of(), ResultCache(tmp_path)
    bank_from(setting, 100, cache=cache)
    kept = {path: path.stat().st_ino for path in tmp_path.glob("*.arrays")}
    longer = bank_from(setting, 300, cache=cache)
    assert {path: path.stat().st_ino for path in kept} == kept
    assert_same(longer, bank_from(setting, 300))


def test_banks_a_b_and_c_share_no_draw():
    setting = setting_of(twenty_site_plant())
    a, b, c = (bank_from(setting, 100, name) for name in "ABC")
    for one, other in ((a, b), (a, c), (b, c)):
        assert not np.array_equal(one.multipliers["rate.splash"], other.multipliers["rate.splash"])
        assert one.code.shape != other.code.shape or not np.array_equal(one.code, other.code)


def test_history_e_belongs_to_copy_e_modulo_twenty():
    assert bank_from(setting_of(), 50).copy.tolist() == [e % 20 for e in range(50)]


def test_another_seed_gives_another_bank():
    assert setting_of(seed=1).digest() != setting_of(seed=2).digest()
    assert not np.array_equal(bank_from(setting_of(seed=1)).niche, bank_from(setting_of(seed=2)).niche)


@pytest.mark.parametrize("part", ["seed", "cutoff", "mechanisms"])
def test_the_digest_follows_from_every_part(part):
    setting = setting_of()
    changed = {"seed": 8, "cutoff": 1e-6, "mechanisms": setting.mechanisms[1:]}
    assert replace(setting, **{part: changed[part]}).digest() != setting.digest()


def test_two_sites_with_one_key_are_refused_by_name():
    copied = site(1, "cracked_floor", (10.0, 2.0)).model_copy(update={"code": "S099"})
    with pytest.raises(DocumentRefused, match=r"site S099 has the key of site S001"):
        network_of(tiny_plant(sites=(*tiny_plant().sites, copied)))


def test_new_keys_are_never_the_same():
    assert len({new_site_key() for _ in range(1000)}) == 1000
