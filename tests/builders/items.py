"""Items and draws on an invented bank, for tests that need no plant."""

from typing import Any

import numpy as np

from swabwright.belief.rows import HypothesisRows
from swabwright.detection.items import Item, ItemDraws
from swabwright.spread.bank import ResponseBank


def item(row: int = 0, **changed: Any) -> Item:
    """A sponge, as is, at the site of a row: a tenth of the area, k 0.2, reach 0.01, hit for certain."""
    usual: dict[str, Any] = {
        "site_key": f"{row + 1:032x}",
        "site_code": f"S{row + 1:03d}",
        "device": "SP",
        "mode": "as_is",
        "occasion": 0,
        "row": row,
        "area_cm2": 1000.0,
        "area_fraction": 0.1,
        "recovery": 0.2,
        "reach": 0.01,
        "hit_chance": 1.0,
        "minutes": 5.0,
    }
    return Item(**{**usual, **changed})


def draws_for(bank: ResponseBank, items: tuple[Item, ...], *, seed: int = 3) -> ItemDraws:
    """Random draws of the right shapes: reach about 0.01, recovery about 1, capacities about 10^4.8."""
    draw = np.random.default_rng(seed)
    histories, sources = bank.histories, len(bank.source_names)
    return ItemDraws(
        reach=np.minimum(1, 0.01 * np.exp(1.5 * draw.normal(size=(len(items), histories)))).astype(np.float32),
        recovery=np.exp(0.3 * draw.normal(size=histories)).astype(np.float32),
        log10_capacity=(4.8 + 0.6 * draw.normal(size=(histories, sources))).astype(np.float32),
    )


def rows_on(bank: ResponseBank, count: int = 200, *, seed: int = 7) -> HypothesisRows:
    """Equally weighted rows with one or two niches at random."""
    draw = np.random.default_rng(seed)
    history = draw.integers(0, bank.histories, count).astype(np.int32)
    sources = np.full((count, 3), -1, np.int32)
    sources[:, 0] = draw.integers(0, len(bank.source_names), count)
    second = draw.integers(0, len(bank.source_names), count)
    pairs = (draw.random(count) < 0.3) & (second != sources[:, 0])
    sources[pairs, 1] = second[pairs]
    return HypothesisRows(history, sources, np.full(count, 1 / count), bank.copy[history])
