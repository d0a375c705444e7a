"""By which way contamination came to where it was detected, its last step, by what is believed after the results."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from swabwright.belief.known import Known
from swabwright.belief.rows import HypothesisRows
from swabwright.belief.spread_of import Spread, spread_of
from swabwright.detection.cells import expected_cells, source_of_items
from swabwright.detection.draws import item_draws
from swabwright.detection.items import Item
from swabwright.spread.bank import ResponseBank
from swabwright.spread.mechanisms import MECHANISMS, NUMBERS
from swabwright.spread.network import ContactNetwork

Array = npt.NDArray[np.float64]
OWN, OTHER, UNEXPLAINED = "own", "other", "unexplained"
ALL_WAYS = (OWN, *MECHANISMS, OTHER, UNEXPLAINED)
NICHES = 2


@dataclass(frozen=True)
class WayTaken:
    """One way to a site with its chance: a mechanism, OWN (a niche there), OTHER or UNEXPLAINED."""

    way: str
    chance: Spread


def ways_to(
    known: Known, network: ContactNetwork, item: Item, hypotheses: tuple[HypothesisRows, Array]
) -> tuple[WayTaken, ...]:
    """The ways to the site of a sample, the likeliest first; their chances add to 1.

    hypotheses: rows drawn from the posterior, and in each the chance that the detection is unexplained. In a
    hypothesis each niche has its part of the cells; that of a niche elsewhere is shared over mechanisms as the mean
    flows of the drawn contacts into the site, from what that niche put on the surfaces around, with the history's own
    multipliers. OTHER are cells that no drawn contact accounts for.
    """
    rows, missed = hypotheses
    parts = np.stack([_of_niche(known, network, item, (rows, place)) for place in range(NICHES)])
    whole = parts.sum(axis=(0, 2))
    # without a cell at the site nothing came by any way, and the detection is unexplained
    share = parts.sum(axis=0) / np.where(whole > 0, whole, 1.0)[:, None]
    explained = np.where(whole > 0, 1.0 - missed, 0.0)
    values = np.concatenate([share * explained[:, None], (1.0 - explained)[:, None]], axis=1)
    found = [WayTaken(way, spread_of(values[:, at], rows)) for at, way in enumerate(ALL_WAYS)]
    return tuple(sorted((one for one in found if one.chance.value > 0), key=lambda one: (-one.chance.value, one.way)))


def _of_niche(known: Known, network: ContactNetwork, item: Item, which: tuple[HypothesisRows, int]) -> Array:
    """Cells that one of the niches puts into the sample, by way, (S, ways but the last)."""
    rows, place = which
    source = rows.sources[:, place]
    alone = replace(rows, sources=np.stack([source, *[np.full_like(source, -1)] * 2], axis=1))
    draws = item_draws(known.bank, known.setting.plant, known.setting.catalogue, (item,))
    cells = expected_cells(known.bank, alone, (item,), draws)[0].astype(np.float64)
    own = source == int(source_of_items(known.bank, (item,))[0])
    flows = _flows(known.bank, network, item, (rows.history, source))
    known_flow = flows.sum(axis=1)
    shares = flows / np.where(known_flow > 0, known_flow, 1.0)[:, None]
    away = np.where(own, 0.0, cells)
    by_way = [np.where(own, cells, 0.0), *(away * shares[:, at] for at in range(len(MECHANISMS)))]
    return np.stack([*by_way, np.where(known_flow > 0, 0.0, away)], axis=1)


def _flows(
    bank: ResponseBank, network: ContactNetwork, item: Item, which: tuple[npt.NDArray[np.int32], npt.NDArray[np.int32]]
) -> Array:
    """Mean flow into the item's row by mechanism, (S, mechanisms), from what one niche has put on every node."""
    into = _into(network, item.row)
    history, source = which
    pairs, back = np.unique(np.stack([history, source]), axis=1, return_inverse=True)
    loads = np.stack([_loads(bank, int(e), item.occasion, int(c)) for e, c in pairs.T])
    multipliers = _multipliers(bank.multipliers, bank.histories)
    return np.asarray((loads @ into) * multipliers[pairs[0]])[np.ravel(back)]


def _into(network: ContactNetwork, row: int) -> Array:
    """Share of each node's load that reaches a row in 8 running hours by each mechanism, (nodes, mechanisms)."""
    into = np.zeros((len(network.source_names), len(MECHANISMS)))
    for stream in network.streams:
        if not stream.on:
            continue
        for target, share in zip(stream.targets, stream.shares, strict=True):
            if target.row == row:
                into[stream.source, NUMBERS[stream.mechanism]] += stream.rate_per_8h * stream.fraction * share
    return into


def _loads(bank: ResponseBank, history: int, occasion: int, source: int) -> Array:
    """What a unit niche at a source puts on every node; incoming material is itself the load of its node."""
    loads = np.zeros(len(bank.source_names))
    if source < 0:
        return loads
    column = bank.column(history, occasion, source)
    loads[column.rows] = column.loads
    if source >= len(bank.row_names):
        loads[source] = bank.niche[history, occasion, source]
    return loads


def _multipliers(named: Mapping[str, npt.NDArray[np.float32]], histories: int) -> Array:
    """Each history's factor on the flow of each mechanism, (E, mechanisms)."""
    usual: npt.NDArray[np.float32] = np.ones(histories, np.float32)
    factors: Sequence[Array] = [
        named.get(f"rate.{name}", usual).astype(np.float64) * named.get(f"fraction.{name}", usual)
        for name in MECHANISMS
    ]
    return np.stack(factors, axis=1)
