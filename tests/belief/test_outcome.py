"""What samples would show in each row."""

from dataclasses import replace

import numpy as np
import pytest
from builders.known import earlier_result, investigation, tiny_known
from builders.plants import tiny_plant

from swabwright.belief.believe import at_end, believe, items_under, reread
from swabwright.belief.earlier import earlier_results
from swabwright.belief.known import Known
from swabwright.belief.outcome import cells_of, find_chances, hit_chances, silence_ratio
from swabwright.detection.choices import build_items
from swabwright.detection.factor import conditional_silent
from swabwright.detection.items import Item
from swabwright.detection.model import detection_model
from swabwright.detection.phi import exponents

KNOWN = tiny_known()
BELIEF = believe(KNOWN, 2500)
ROWS = BELIEF.rows


def sponges(known: Known = KNOWN) -> tuple[Item, ...]:
    """Every sponge as it stands."""
    items = build_items(known.setting, known.bank)
    return tuple(item for item in items if item.device == "SP" and item.mode == "as_is")


def test_chances_are_chances() -> None:
    for values in (find_chances(KNOWN, ROWS, sponges()), hit_chances(KNOWN, ROWS, sponges())):
        assert values.min() >= 0
        assert values.max() <= 1


def test_without_a_past_the_chance_is_one_less_exp_of_summed_exponents() -> None:
    model = detection_model(KNOWN.figures)
    exponent = exponents(cells_of(KNOWN, ROWS, sponges()), model.sigma, model.unexplained).sum(axis=0)
    assert find_chances(KNOWN, ROWS, sponges()) == pytest.approx(1 - np.exp(-exponent.astype(np.float64)), abs=1e-6)


def test_two_samples_of_one_site_share_its_discrepancy() -> None:
    item = sponges()[0]
    twice = replace(item, area_fraction=2 * item.area_fraction, recovery=item.recovery)
    cells = cells_of(KNOWN, ROWS, (item,))
    elsewhere = (ROWS.sources != item.row).all(axis=1)
    both = find_chances(KNOWN, ROWS, (item, item))
    assert both[elsewhere] == pytest.approx(find_chances(KNOWN, ROWS, (twice,))[elsewhere], abs=1e-5)
    assert cells.max() > 0


def test_pieces_of_a_site_share_its_discrepancy() -> None:
    plant = tiny_plant()
    halves = tuple(
        plant.sites[2].model_copy(update={"key": f"{n:032x}", "code": f"P{n}", "split_from": plant.sites[2].key})
        for n in (100, 101)
    )
    known = tiny_known(plant=plant.model_copy(update={"sites": (*plant.sites[:2], *halves, *plant.sites[3:])}))
    items = tuple(item for item in sponges(known) if item.site_code in ("P100", "P101"))
    rows, model = believe(known, 1500).rows, detection_model(known.figures)
    summed = cells_of(known, rows, items).sum(axis=0)
    together = exponents(summed, model.sigma, model.unexplained)
    assert find_chances(known, rows, items) == pytest.approx(1 - np.exp(-together.astype(np.float64)), abs=1e-6)


def test_a_sample_after_a_silent_one_is_read_given_the_past() -> None:
    past = tiny_known(investigation=investigation(earlier_results=(earlier_result("S003"),)))
    item = tuple(one for one in sponges(past) if one.site_code == "S003")[:1]
    earlier = earlier_results(past, ROWS)[item[0].shared_key]
    expected = 1 - conditional_silent(earlier, cells_of(past, ROWS, item)[0], detection_model(past.figures))
    assert find_chances(past, ROWS, item) == pytest.approx(expected)


def test_more_samples_never_make_silence_likelier() -> None:
    ratios = [ROWS.weight @ silence_ratio(KNOWN, ROWS, sponges()[:count]) for count in (1, 2, 3)]
    assert ratios == sorted(ratios, reverse=True)


def test_silence_of_no_sample_is_certain() -> None:
    assert (silence_ratio(KNOWN, ROWS, ()) == 1).all()


def test_reading_again_with_the_same_figures_changes_nothing() -> None:
    again = reread(BELIEF, KNOWN.figures)
    assert again.rows.weight == pytest.approx(ROWS.weight)
    assert items_under(KNOWN, sponges()) == sponges()


def test_reading_with_low_recovery_changes_what_samples_recover() -> None:
    low = KNOWN.under(at_end(KNOWN.figures, ("recovery.wet",), "low"))
    changed = items_under(low, sponges())
    wet = [place for place, item in enumerate(sponges()) if item.wetness == "wet"]
    assert all(changed[place].recovery < sponges()[place].recovery for place in wet)


def test_changing_the_prior_moves_rows_by_the_ratio_of_their_priors() -> None:
    even = reread(BELIEF, at_end(KNOWN.figures, ("prior.uniform_share",), "high"))
    ratio = even.prior.of_sets(ROWS.sources) / BELIEF.prior.of_sets(ROWS.sources)
    expected = BELIEF.before.weight * ratio
    assert even.before.weight == pytest.approx(expected / expected.sum())
