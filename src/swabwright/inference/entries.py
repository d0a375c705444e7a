"""Sites that every hypothesis with one niche reaches, and what the results there say of it."""

from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from swabwright.belief.known import Known
from swabwright.belief.rows import HypothesisRows
from swabwright.compute.executor import map_chunks
from swabwright.detection.cells import expected_cells
from swabwright.detection.draws import item_draws
from swabwright.detection.items import Item, ItemDraws
from swabwright.detection.observed import Observed
from swabwright.inference.term_kernels import fill_entries
from swabwright.inference.terms import SiteGroup, SiteSpec, needs_integral

Array = npt.NDArray[np.float64]
FloatArray = npt.NDArray[np.float32]
HISTORIES_A_CHUNK = 100
WORKERS = 2
"""Threads that read a bank; answers do not hang on their number."""


class Entries(NamedTuple):
    """Entries of every row (history, then source), sites in order; n entries.

    first: (rows + 1,) where a row's entries begin. site, silent, found_at, ln: (n,) site, cells of silent results,
    place of its found results' cells in `found`, log ratio.
    """

    first: npt.NDArray[np.int64]
    site: npt.NDArray[np.uint16]
    silent: FloatArray
    found_at: npt.NDArray[np.int64]
    found: FloatArray
    ln: Array


class _Sampled(NamedTuple):
    """Items with their draws, the share plated of each, its site, and its place among the results taken singly."""

    items: tuple[Item, ...]
    draws: ItemDraws
    plated: FloatArray
    site: npt.NDArray[np.int64]
    single: npt.NDArray[np.int64]


def read_entries(
    known: Known, results: tuple[Observed, ...], groups: tuple[SiteGroup, ...], spec: SiteSpec
) -> tuple[Entries, Array]:
    """The entries of every hypothesis with one niche, and the sum of each row's log ratios, shape (rows,)."""
    spans = chunks_of(known.bank.histories)
    if not results:
        rows = known.bank.histories * len(known.bank.source_names)
        return _joined([_room(rows, 0, 0)]), np.zeros(rows)
    items = tuple(one.item for one in results)
    sampled = _Sampled(
        items,
        item_draws(known.bank, known.setting.plant, known.setting.catalogue, items),
        np.array([1.0 if one.count is None else one.count.plated_fraction for one in results], np.float32),
        *_places(results, groups),
    )
    parts = list(map_chunks(lambda span: _chunk(known, sampled, spec, span), spans, WORKERS))
    return _joined([part for part, _ in parts]), np.concatenate([total for _, total in parts])


def chunks_of(histories: int) -> list[range]:
    """Spans of histories that are worked on together."""
    firsts = range(0, histories, HISTORIES_A_CHUNK)
    return [range(first, min(first + HISTORIES_A_CHUNK, histories)) for first in firsts]


def single_rows(known: Known, histories: range) -> HypothesisRows:
    """One row for every history of a span and every source, history by history, each with the same weight."""
    sources = len(known.bank.source_names)
    history = np.repeat(np.arange(histories.start, histories.stop, dtype=np.int32), sources)
    at = np.full((len(history), 3), -1, np.int32)
    at[:, 0] = np.tile(np.arange(sources, dtype=np.int32), len(histories))
    return HypothesisRows(history, at, np.full(len(history), 1.0 / len(history)), known.bank.copy[history])


def _places(
    results: tuple[Observed, ...], groups: tuple[SiteGroup, ...]
) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.int64]]:
    """Site of each result, and its place among those that the integral takes one by one (-1: summed)."""
    site, single, count = np.zeros(len(results), np.int64), np.full(len(results), -1, np.int64), 0
    for number, group in enumerate(groups):
        site[list(group.places)] = number
        if needs_integral([results[at] for at in group.places]):
            for at in group.places:
                if results[at].detected:
                    single[at], count = count, count + 1
    return site, single


def _chunk(known: Known, sampled: _Sampled, spec: SiteSpec, span: range) -> tuple[Entries, Array]:
    rows = single_rows(known, span)
    cells = expected_cells(known.bank, rows, sampled.items, sampled.draws) * sampled.plated[:, None]
    most, total = int((cells > 0).sum()), np.zeros(len(rows))
    room = _room(len(rows), most, most * int(np.diff(spec.first).max(initial=0)))
    count, places = fill_entries(cells, (sampled.site, sampled.single), spec, (*room, total))
    return _cut(room, count, places), total


def _cut(room: Entries, entries: int, found: int) -> Entries:
    """The part of a room that was filled."""
    return Entries(
        first=room.first,
        site=room.site[:entries].copy(),
        silent=room.silent[:entries].copy(),
        found_at=room.found_at[:entries].copy(),
        found=room.found[:found].copy(),
        ln=room.ln[:entries].copy(),
    )


def _room(rows: int, entries: int, found: int) -> Entries:
    return Entries(
        first=np.zeros(rows + 1, np.int64),
        site=np.zeros(entries, np.uint16),
        silent=np.zeros(entries, np.float32),
        found_at=np.zeros(entries, np.int64),
        found=np.zeros(found, np.float32),
        ln=np.zeros(entries),
    )


def _joined(parts: list[Entries]) -> Entries:
    """The entries of all chunks as one, places moved to where each chunk begins."""
    ends = np.cumsum([0, *(len(part.site) for part in parts)])
    places = np.cumsum([0, *(len(part.found) for part in parts)])

    def whole(name: str) -> Any:
        return np.concatenate([getattr(part, name) for part in parts])

    return Entries(
        first=np.concatenate([*(part.first[:-1] + end for part, end in zip(parts, ends, strict=False)), ends[-1:]]),
        site=whole("site"),
        silent=whole("silent"),
        found_at=np.concatenate([part.found_at + place for part, place in zip(parts, places, strict=False)]),
        found=whole("found"),
        ln=whole("ln"),
    )
