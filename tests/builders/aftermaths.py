"""Invented banks of the same histories with every niche left, gone or reduced, and actions at their sources."""

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
from builders.known import tiny_known
from builders.results import observed

from swabwright.belief.known import Known
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.model import detection_model
from swabwright.inference.clearance import aftermath, with_past
from swabwright.inference.clearance_fates import fates_of
from swabwright.spread.bank import Occasion

RESIDUE_LOG2 = 5
ROUNDS = tuple(Occasion(f"round {n}", datetime(2026, 3, 5 + 7 * n, 9, tzinfo=UTC), "rulebook_hour") for n in range(4))
RATES = {f"visit-{n}": 0.002 for n in range(5)}


def three_banks(histories=40, niche=0.02):
    """Known with the niches left, gone and reduced from the second occasion on; the same histories in each."""
    left = tiny_known(histories=histories)
    bank = replace(left.bank, occasions=ROUNDS)
    known = replace(left, bank=_with_occasions(bank, niche))
    share = np.random.default_rng(4).uniform(0.001, 1.0, known.bank.niche[:, 0].shape)
    return known, _treated(known, np.zeros_like(share)), _treated(known, share)


def _with_occasions(bank, niche):
    """The first occasion's responses at every occasion."""
    ends = [bank.offsets[h, 0, [0, -1]] for h in range(bank.histories)]
    parts = [slice(first, last) for first, last in ends for _ in ROUNDS]
    sizes = np.array([part.stop - part.start for part in parts])
    starts = np.concatenate([[0], np.cumsum(sizes)[:-1]]).reshape(bank.histories, len(ROUNDS), 1)
    offsets = bank.offsets[:, :1, :] - bank.offsets[:, :1, :1] + starts
    return replace(
        bank,
        offsets=offsets,
        row_index=np.concatenate([bank.row_index[part] for part in parts]),
        code=np.concatenate([bank.code[part] for part in parts]),
        niche=np.repeat(niche * bank.niche[:, :1], len(ROUNDS), axis=1).astype(np.float32),
        founded_before=np.repeat(bank.founded_before[:, :1], len(ROUNDS), axis=1),
    )


def _treated(known: Known, kept: np.ndarray) -> Known:
    """What each niche keeps of its level, (histories, sources), from the second occasion on; residue halves weekly."""
    bank = known.bank
    niche, code = bank.niche.copy(), bank.code.astype(np.int64)
    niche[:, 1:] *= kept[:, None, :].astype(np.float32)
    for history in range(bank.histories):
        for occasion in range(1, len(ROUNDS)):
            for source in range(len(bank.source_names)):
                at = slice(*bank.offsets[history, occasion, source : source + 2])
                residue = 2.0 ** (-RESIDUE_LOG2 * occasion)
                code[at] += round(2048 * np.log2(kept[history, source] * (1 - residue) + residue))
    return replace(known, bank=replace(bank, niche=niche, code=np.clip(code, 1, 65535).astype(bank.code.dtype)))


def single_rows(known, sources=(0, 1, 2)):
    """One niche at each of these sources in every history, evenly weighted."""
    count = known.bank.histories
    history = np.tile(np.arange(count, dtype=np.int32), len(sources))
    at = np.full((len(history), 3), -1, np.int32)
    at[:, 0] = np.repeat(sources, count)
    return HypothesisRows(history, at, np.full(len(history), 1 / len(history)), known.bank.copy[history])


def begun(banks, treated, rows=None, past=()):
    """The aftermath of actions on invented banks."""
    rows = single_rows(banks[0]) if rows is None else rows
    fates = fates_of(len(banks[0].bank.source_names), treated)
    started = aftermath(banks, rows, fates, detection_model(banks[0].figures))
    return with_past(started, past, RATES)


def round_at(banks, number, places, *, found=(), name=None):
    """Results of one round at the sites of these rows."""
    return tuple(
        observed(
            banks[0],
            place,
            detected=place in found,
            sample=f"{name or number} at {place}",
            batch=f"visit-{number}",
            item={"occasion": number, "hit_chance": 0.6},
        )
        for place in places
    )
