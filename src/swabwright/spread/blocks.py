"""Blocks of 100 histories: the unit that is computed, kept and appended."""

from collections.abc import Iterator
from dataclasses import dataclass, fields
from functools import cached_property
from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt

from swabwright.compute.kernels import forget_stale_kernels
from swabwright.spread.arrays import slot_table, source_table, stream_tables, tuning
from swabwright.spread.bank import BankName
from swabwright.spread.copies import Copier, StructuralCopy
from swabwright.spread.histories import draw_histories, in_copy, multipliers_by_name, taken
from swabwright.spread.replay import Stored
from swabwright.spread.setting import BankSetting
from swabwright.spread.simulate import Store, simulate
from swabwright.spread.tables import Draws, Lanes, Streams

Kind = TypeVar("Kind", bound=np.generic)

Beginning = list[Stored]
"""Surfaces and niches by structural copy."""
BLOCK = 100
"""Histories in a block."""


@dataclass(frozen=True)
class Block:
    """Arrays of up to 100 histories; entries stand in order of history, occasion, source, row."""

    counts: npt.NDArray[np.int32]
    row: npt.NDArray[np.uint16]
    code: npt.NDArray[np.uint16]
    niche: npt.NDArray[np.float32]
    product: npt.NDArray[np.float32]
    founded: npt.NDArray[np.bool_]
    saturated: npt.NDArray[np.int64]
    transfers: npt.NDArray[np.int64]
    names: npt.NDArray[np.str_]
    """Names of the per-history multipliers, in order."""
    multipliers: npt.NDArray[np.float32]
    """Shape (names, histories)."""

    def arrays(self) -> dict[str, npt.NDArray[Any]]:
        """The block as named arrays, as a cache keeps it."""
        return {field.name: getattr(self, field.name) for field in fields(self)}


class Simulator:
    """One bank of a setting, ready to compute any of its blocks; shared by all workers."""

    def __init__(self, setting: BankSetting, bank: BankName) -> None:
        forget_stale_kernels()
        self.setting, self.bank = setting, bank
        self.slots, self.sources = slot_table(setting), source_table(setting)
        self.tuning = tuning(setting, bank)

    @cached_property
    def copies(self) -> list[tuple[StructuralCopy, Lanes, Streams]]:
        """Every structural copy of this bank with its tables."""
        copier = Copier(self.setting, self.bank)
        made = [copier.copy(number) for number in range(self.setting.spreads.copies)]
        return [(copy, *stream_tables(copy.streams)) for copy in made]

    def block(self, number: int, begin: Beginning | None = None) -> Block:
        """Histories 100 x number to 100 x number + 99; the same whoever computes it, and when.

        begin: what each copy's histories take over from an earlier segment; they leave their own state in it.
        """
        numbers = np.arange(number * BLOCK, (number + 1) * BLOCK, dtype=np.int64)
        draws = draw_histories(self.setting, self.bank, numbers)
        copy_of = numbers % len(self.copies)
        order = np.argsort(copy_of, kind="stable")
        ends = np.searchsorted(copy_of[order], np.arange(len(self.copies) + 1))
        by_copy = taken(draws, order)
        stores = [
            self.store_of(
                copy,
                in_copy(by_copy, slice(ends[copy], ends[copy + 1]), self.copies[copy][0]),
                None if begin is None else begin[copy],
            )
            for copy in range(len(self.copies))
            if ends[copy] < ends[copy + 1]
        ]
        return self._assembled(draws, np.argsort(order), stores)

    def clean(self, number: int) -> Beginning:
        """Clean surfaces and no niche for every history of a block, to begin a first segment with."""
        numbers = np.arange(number * BLOCK, (number + 1) * BLOCK)
        count, rows = len(self.sources.shed), self.sources.rows
        sizes = [int((numbers % len(self.copies) == copy).sum()) for copy in range(len(self.copies))]
        return [Stored(np.zeros((n, rows, count), np.float32), np.zeros((n, count))) for n in sizes]

    def store_of(self, number: int, draws: Draws, stored: Stored | None = None) -> Store:
        """What histories of copy `number` leave behind; the draws hold that copy's own multipliers already."""
        if stored is None:
            count = len(self.sources.shed)
            stored = Stored(np.zeros((0, self.sources.rows, count), np.float32), np.zeros((0, count)))
        _, lanes, streams = self.copies[number]
        return Store(*simulate(lanes, streams, self.slots, self.sources, self.tuning, draws, stored))

    def _assembled(self, draws: Draws, order: npt.NDArray[np.intp], stores: list[Store]) -> Block:
        """The stores of all copies put back into the order of histories."""
        named = multipliers_by_name(self.setting, self.bank, draws)
        read = self.setting.clock.read
        return Block(
            counts=_joined([store.counts for store in stores], order),
            row=np.concatenate(_by_history(stores, "row", order)),
            code=np.concatenate(_by_history(stores, "code", order)),
            niche=_joined([store.niche for store in stores], order),
            product=_joined([store.product for store in stores], order),
            founded=draws.founded[:, None, :] <= read[None, :, None],
            saturated=np.array([store.tally[1] for store in stores]).sum(keepdims=True),
            transfers=np.array([store.tally[2] for store in stores]).sum(keepdims=True),
            names=np.array(list(named)),
            multipliers=np.array(list(named.values()), dtype=np.float32),
        )


def _joined(parts: list[npt.NDArray[Kind]], order: npt.NDArray[np.intp]) -> npt.NDArray[Kind]:
    return np.concatenate(parts)[order]


def _by_history(stores: list[Store], name: str, order: npt.NDArray[np.intp]) -> list[npt.NDArray[np.uint16]]:
    pieces = [piece for store in stores for piece in _pieces(store, getattr(store, name))]
    return [pieces[place] for place in order]


def _pieces(store: Store, entries: npt.NDArray[np.uint16]) -> Iterator[npt.NDArray[np.uint16]]:
    """The entries of each history of a store."""
    ends = np.cumsum(store.counts.sum(axis=(1, 2)))
    return (entries[end - size : end] for end, size in zip(ends, store.counts.sum(axis=(1, 2)), strict=True))
