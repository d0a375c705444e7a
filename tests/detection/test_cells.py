"""Laws of the expected recovered cells, against the same formula written out plainly."""

from dataclasses import replace

import numpy as np
import pytest
from builders.banks import bank_of, random_bank
from builders.items import draws_for, item, rows_on
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.belief.rows import HypothesisRows
from swabwright.detection.cells import at_source, expected_cells
from swabwright.detection.items import Item, ItemDraws
from swabwright.spread.bank import ResponseBank

BANK = random_bank(histories=20, sites=6, occasion_count=2)
ITEMS = tuple(
    item(row, occasion=row % 2, mode=mode, reach=reach)  # type: ignore[arg-type]
    for row in range(6)
    for mode, reach in (("as_is", 0.01), ("opened", 0.4))
)
DRAWS = draws_for(BANK, ITEMS)
ROWS = rows_on(BANK, 80)


def plainly(bank: ResponseBank, rows: HypothesisRows, one: Item, draws: ItemDraws, place: int) -> list[float]:
    """lambda of one item in every row, from the formula, niche by niche."""
    cells = []
    for history, sources in zip(rows.history, rows.sources, strict=True):
        total = 0.0
        for source in sources[sources >= 0]:
            capacity = 10.0 ** draws.log10_capacity[history, source]
            column = bank.column(history, one.occasion, source)
            surface = float(column.loads[column.rows == one.row].sum())
            own = bank.source_names[source] == bank.row_names[one.row]
            spot = draws.reach[place, history] * bank.niche[history, one.occasion, source] if own else 0.0
            total += capacity * one.recovery * (one.area_fraction * surface + spot)
        cells.append(draws.recovery[history] * total)
    return cells


def test_cells_follow_the_formula_written_out_plainly() -> None:
    cells = expected_cells(BANK, ROWS, ITEMS, DRAWS)
    expected = [plainly(BANK, ROWS, one, DRAWS, place) for place, one in enumerate(ITEMS)]
    assert cells == pytest.approx(np.array(expected), rel=1e-4)


def test_cells_of_a_tiny_bank_by_hand() -> None:
    # One history, two rows, one niche at row 0: 0.5 CFU per unit of capacity on row 0, 0.25 on row 1.
    bank = bank_of(np.array([[[[0.5, 0.25], [0.0, 0.0]]]]))
    items = (item(0, area_fraction=0.2), item(1, area_fraction=0.2))
    draws = ItemDraws(np.full((2, 1), 0.1, np.float32), np.ones(1, np.float32), np.full((1, 2), 2.0, np.float32))
    rows = HypothesisRows(np.array([0], np.int32), np.array([[0, -1, -1]], np.int32), np.ones(1), bank.copy)
    # Row 0: 100 CFU x 0.2 x (0.2 x 0.5 + 0.1 reached of a full niche) = 4; row 1: 100 x 0.2 x 0.2 x 0.25 = 1.
    assert expected_cells(bank, rows, items, draws)[:, 0] == pytest.approx([4.0, 1.0], rel=1e-3)


def test_two_niches_add_up() -> None:
    both = ROWS.sources[:, 1] >= 0
    first = replace(ROWS, sources=np.where(np.arange(3) == 1, -1, ROWS.sources).astype(np.int32))
    second = replace(ROWS, sources=np.where(np.arange(3) == 0, -1, ROWS.sources).astype(np.int32))
    parts = sum(expected_cells(BANK, part, ITEMS, DRAWS)[:, both] for part in (first, second))
    assert expected_cells(BANK, ROWS, ITEMS, DRAWS)[:, both] == pytest.approx(parts, rel=1e-5)


@given(st.floats(0.01, 1.0))
@settings(deadline=None, derandomize=True, max_examples=20)
def test_diluting_a_sample_never_raises_its_cells(share: float) -> None:
    diluted = tuple(replace(one, recovery=one.recovery * share) for one in ITEMS)
    assert (expected_cells(BANK, ROWS, diluted, DRAWS) <= expected_cells(BANK, ROWS, ITEMS, DRAWS) * (1 + 1e-6)).all()


def test_order_of_items_and_rows_is_irrelevant_bit_for_bit() -> None:
    cells = expected_cells(BANK, ROWS, ITEMS, DRAWS)
    turned = ItemDraws(DRAWS.reach[::-1].copy(), DRAWS.recovery, DRAWS.log10_capacity)
    back = HypothesisRows(*(part[::-1].copy() for part in (ROWS.history, ROWS.sources, ROWS.weight, ROWS.copy)))
    assert (expected_cells(BANK, back, ITEMS[::-1], turned) == cells[::-1, ::-1]).all()


def test_a_missed_spot_still_sees_what_was_spread() -> None:
    missed = ItemDraws(np.zeros_like(DRAWS.reach), DRAWS.recovery, DRAWS.log10_capacity)
    cells = expected_cells(BANK, ROWS, ITEMS, missed)
    on_niche = at_source(BANK, ROWS, ITEMS)
    assert (cells <= expected_cells(BANK, ROWS, ITEMS, DRAWS)).all()
    assert cells[on_niche].min() > 0


def test_an_item_is_at_the_source_only_on_its_own_site() -> None:
    found = at_source(BANK, ROWS, ITEMS)
    expected = [[one.row in sources[sources >= 0] for sources in ROWS.sources] for one in ITEMS]
    assert (found == np.array(expected)).all()


def test_sources_without_a_row_reach_items_too() -> None:
    incoming = replace(ROWS, sources=np.tile(np.array([len(BANK.source_names) - 1, -1, -1], np.int32), (80, 1)))
    assert expected_cells(BANK, incoming, ITEMS, DRAWS).max() > 0
    assert not at_source(BANK, incoming, ITEMS).any()
