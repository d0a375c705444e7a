"""Laws of the draws of a sample and a niche: shared where they must be, independent of order and names."""

from dataclasses import replace

import numpy as np
import pytest
from builders.known import plant_bank, tiny_known
from builders.plants import tiny_plant

from swabwright.detection.choices import Setting, build_items
from swabwright.detection.draws import capacity_draws, item_draws, reach_draws, recovery_draws
from swabwright.plant.document import Plant

KNOWN = tiny_known(histories=2000)
ITEMS = build_items(KNOWN.setting, KNOWN.bank)
FIGURES = KNOWN.figures
REACH = reach_draws(KNOWN.bank, ITEMS, FIGURES)


def reordered() -> Plant:
    """The tiny plant with its sites in reverse order and other names."""
    plant = tiny_plant()
    sites = tuple(site.model_copy(update={"name": f"renamed {site.code}"}) for site in plant.sites[::-1])
    return plant.model_copy(update={"sites": sites})


def test_devices_of_one_site_and_mode_share_their_reach() -> None:
    first, second = (replace(ITEMS[0], device=device, hit_chance=1.0) for device in ("SP", "SW"))
    both = reach_draws(KNOWN.bank, (first, second), FIGURES)
    assert (both[0] == both[1]).all()


def test_different_sites_are_reached_independently() -> None:
    first, other = (next(p for p, i in enumerate(ITEMS) if i.site_code == code) for code in ("S003", "S004"))
    both = (REACH[first] > 0) & (REACH[other] > 0)
    assert abs(np.corrcoef(np.log(REACH[first][both]), np.log(REACH[other][both]))[0, 1]) < 0.15


def test_an_item_hits_the_niche_as_often_as_its_chance_to_hit() -> None:
    place, item = next((p, i) for p, i in enumerate(ITEMS) if i.hit_chance < 1)
    assert (REACH[place] > 0).mean() == pytest.approx(item.hit_chance, abs=0.035)


def test_reach_has_its_median_and_is_never_above_one() -> None:
    item = replace(ITEMS[0], reach=0.3, hit_chance=1.0)
    (reach,) = reach_draws(KNOWN.bank, (item,), FIGURES)
    assert np.median(reach) == pytest.approx(0.3, rel=0.12)
    assert reach.max() == 1


def test_capacity_has_the_median_and_spread_of_its_site_type() -> None:
    drawn = capacity_draws(KNOWN.bank, KNOWN.setting.plant, KNOWN.setting.catalogue)[:, 2]
    assert np.median(drawn) == pytest.approx(FIGURES.number("site_type.drain_channel.log10_capacity_cfu"), abs=0.05)
    assert drawn.std() == pytest.approx(FIGURES.number("capacity.log10_sd"), rel=0.06)


def test_recovery_differs_between_histories_about_the_factor_of_their_copy() -> None:
    drawn = recovery_draws(KNOWN.bank, FIGURES)
    means = [drawn[KNOWN.bank.copy == copy].mean() for copy in range(20)]
    assert min(means) > 0.3
    assert max(means) < 1.25
    assert np.std(means) > 0.08


def test_recovery_of_a_lone_copy_without_structural_doubt_has_mean_one() -> None:
    plain = FIGURES["recovery.structural_low"]
    figures = type(FIGURES)({**dict(FIGURES), "recovery.structural_low": replace(plain, value=1.0)})
    assert recovery_draws(KNOWN.bank, figures).mean() == pytest.approx(1.0, abs=0.03)


def test_reordering_and_renaming_sites_changes_nothing_bit_for_bit() -> None:
    plant = reordered()
    bank = plant_bank(plant, KNOWN.bank.occasions, histories=50)
    few = replace(KNOWN.bank, copy=KNOWN.bank.copy[:50])
    items = build_items(Setting(plant, KNOWN.setting.catalogue, KNOWN.setting.visit), bank)
    turned, plain = item_draws(bank, plant, KNOWN.setting.catalogue, items), reach_draws(few, ITEMS, FIGURES)
    by_name = {(item.site_code, item.device, item.mode): plain[place] for place, item in enumerate(ITEMS)}
    for place, item in enumerate(items):
        assert (turned.reach[place] == by_name[item.site_code, item.device, item.mode]).all()


def test_pieces_of_a_site_share_its_draws() -> None:
    plant = tiny_plant()
    piece = plant.sites[2].model_copy(update={"key": "f" * 32, "code": "S099", "split_from": plant.sites[2].key})
    cut = plant.model_copy(update={"sites": (*plant.sites, piece)})
    bank = plant_bank(cut, KNOWN.bank.occasions)
    drawn = capacity_draws(bank, cut, KNOWN.setting.catalogue)
    assert (drawn[:, 2] == drawn[:, bank.source_names.index("f" * 32)]).all()


def test_banks_have_draws_of_their_own() -> None:
    other = replace(KNOWN.bank, bank="B")
    assert (recovery_draws(other, FIGURES) != recovery_draws(KNOWN.bank, FIGURES)).all()


def test_more_histories_keep_the_first_ones() -> None:
    few = replace(KNOWN.bank, copy=KNOWN.bank.copy[:300])
    assert (reach_draws(few, ITEMS, FIGURES) == REACH[:, :300]).all()
