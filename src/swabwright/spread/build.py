"""Building a response bank: blocks computed or taken from the cache, then joined."""

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from swabwright.compute.cache import ResultCache
from swabwright.compute.executor import map_chunks
from swabwright.errors import SwabwrightError
from swabwright.spread.bank import BankName, ResponseBank
from swabwright.spread.blocks import BLOCK, Block, Simulator
from swabwright.spread.setting import BankSetting

Progress = Callable[[int, int], None]
"""Told how many histories are done, of how many."""
LARGEST_BYTES = 2_000_000_000
BYTES_PER_ENTRY = 4


@dataclass(frozen=True)
class Workshop:
    """Where and how a bank is built: cache of blocks, number of threads, memory cap, who hears of progress."""

    cache: ResultCache | None = None
    workers: int = 2
    progress: Progress | None = None
    largest_bytes: int = LARGEST_BYTES


def build_bank(
    setting: BankSetting, *, bank: BankName, histories: int, workshop: Workshop | None = None
) -> ResponseBank:
    """The response bank of a setting: the same, bit for bit, for any number of workers and any cache.

    Histories come in blocks of 100; more can be appended later at the price of the new ones only. Refused when
    the bank would not fit into memory.
    """
    workshop = workshop or Workshop()
    simulator = Simulator(setting, bank)
    key = "" if workshop.cache is None else f"{setting.digest()}-{bank}"
    numbers = range((histories + BLOCK - 1) // BLOCK)
    gathered = _Gathered()
    for block in map_chunks(lambda number: _block(simulator, number, key, workshop), numbers, workshop.workers):
        gathered.add(block)
        gathered.refuse_too_large(len(numbers), workshop.largest_bytes)
        if workshop.progress is not None:
            workshop.progress(min(histories, len(gathered.blocks) * BLOCK), histories)
    return gathered.bank(setting, bank, histories)


def _block(simulator: Simulator, number: int, key: str, workshop: Workshop) -> Block:
    if workshop.cache is None:
        return simulator.block(number)
    kept = workshop.cache.get(f"{key}-{number}")
    if kept is not None:
        return Block(**kept)
    block = simulator.block(number)
    workshop.cache.put(f"{key}-{number}", block.arrays())
    return block


class _Gathered:
    """Blocks as they come; their entries go straight into arrays that grow in place, so that none is held twice."""

    def __init__(self) -> None:
        self.blocks: list[Block] = []
        self._row, self._code = np.empty(0, np.uint16), np.empty(0, np.uint16)

    def add(self, block: Block) -> None:
        """Take in one more block."""
        before, after = len(self._row), len(self._row) + len(block.row)
        for entries, more in ((self._row, block.row), (self._code, block.code)):
            entries.resize(after, refcheck=False)
            entries[before:] = more
        self.blocks.append(replace(block, row=block.row[:0].copy(), code=block.code[:0].copy()))

    def refuse_too_large(self, wanted: int, largest_bytes: int) -> None:
        """Refuse a bank that would not fit, as soon as that can be foreseen."""
        so_far = len(self._row) * BYTES_PER_ENTRY + sum(block.product.nbytes for block in self.blocks)
        needed = so_far / len(self.blocks) * wanted
        if needed > largest_bytes:
            raise SwabwrightError(
                f"this bank would take {needed / 1e9:.1f} GB of memory, more than the {largest_bytes / 1e9:.1f} GB"
                " allowed; ask for fewer histories, or fewer earlier dates and suspected days"
            )

    def bank(self, setting: BankSetting, bank: BankName, histories: int) -> ResponseBank:
        """One bank from all blocks, cut to the histories asked for."""
        network, clock, blocks = setting.network, setting.clock, self.blocks
        counts = np.concatenate([block.counts for block in blocks])[:histories]
        entries = int(counts.sum())
        multipliers = np.concatenate([block.multipliers for block in blocks], axis=1)[:, :histories]
        return ResponseBank(
            bank=bank,
            seed=setting.seed,
            row_names=network.row_names,
            source_names=network.source_names,
            occasions=clock.occasions,
            lines=network.lines,
            days=clock.days,
            copy=(np.arange(histories) % setting.spreads.copies).astype(np.int16),
            offsets=_offsets(counts),
            row_index=self._row[:entries],
            code=self._code[:entries],
            niche=np.concatenate([block.niche for block in blocks])[:histories],
            product=np.concatenate([block.product for block in blocks])[:histories, :, : len(clock.days)],
            founded_before=np.concatenate([block.founded for block in blocks])[:histories],
            multipliers={str(name): row for name, row in zip(blocks[0].names, multipliers, strict=True)},
            saturated=int(sum(block.saturated.sum() for block in blocks)),
        )


def _offsets(counts: npt.NDArray[np.int32]) -> npt.NDArray[np.int64]:
    """Where the entries of each (history, occasion) begin and end by source, shape (E, occasions, sources + 1)."""
    ends = np.cumsum(counts, axis=None, dtype=np.int64).reshape(counts.shape)
    starts = ends[:, :, :1] - counts[:, :, :1]
    return np.concatenate([starts, ends], axis=2)
