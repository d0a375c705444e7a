"""Building a response bank: blocks computed or taken from the cache, then joined."""

from collections.abc import Callable
from dataclasses import dataclass

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
    blocks: list[Block] = []
    for block in map_chunks(lambda number: _block(simulator, number, key, workshop), numbers, workshop.workers):
        blocks.append(block)
        _refuse_too_large(blocks, len(numbers), workshop.largest_bytes)
        if workshop.progress is not None:
            workshop.progress(min(histories, len(blocks) * BLOCK), histories)
    return joined(setting, bank, blocks, histories)


def _block(simulator: Simulator, number: int, key: str, workshop: Workshop) -> Block:
    if workshop.cache is None:
        return simulator.block(number)
    kept = workshop.cache.get(f"{key}-{number}")
    if kept is not None:
        return Block(**kept)
    block = simulator.block(number)
    workshop.cache.put(f"{key}-{number}", block.arrays())
    return block


def _refuse_too_large(blocks: list[Block], wanted: int, largest_bytes: int) -> None:
    entries = sum(block.row.shape[0] for block in blocks) / len(blocks) * wanted
    product = sum(block.product.nbytes for block in blocks) / len(blocks) * wanted
    needed = entries * BYTES_PER_ENTRY + product
    if needed > largest_bytes:
        raise SwabwrightError(
            f"this bank would take {needed / 1e9:.1f} GB of memory, more than the {largest_bytes / 1e9:.1f} GB allowed;"
            " ask for fewer histories, or fewer earlier dates and suspected days"
        )


def joined(setting: BankSetting, bank: BankName, blocks: list[Block], histories: int) -> ResponseBank:
    """One bank from its blocks, cut to the histories asked for."""
    network, clock = setting.network, setting.clock
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
        row_index=np.concatenate([block.row for block in blocks])[:entries],
        code=np.concatenate([block.code for block in blocks])[:entries],
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
