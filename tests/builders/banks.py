"""Small invented response banks, for tests that need no plant."""

from datetime import UTC, date, datetime, timedelta
from typing import Any

import numpy as np

from swabwright.spread.bank import Occasion, ResponseBank

FIRST_DAY = date(2026, 3, 2)


def encode(loads: np.ndarray[Any, Any]) -> np.ndarray[Any, np.dtype[np.uint16]]:
    """The 16-bit logarithm code of loads; 0 stays 0."""
    positive = loads > 0
    code = np.round(np.log2(np.where(positive, loads, 1.0)) * 2048 + 57344)
    return np.where(positive, np.clip(code, 1, 65535), 0).astype(np.uint16)


def bank_of(responses: np.ndarray[Any, Any], **changed: Any) -> ResponseBank:
    """A bank from dense responses (history, occasion, source, row); every other part has a plain default.

    changed: any field of the bank (`niche`, `product`, `lines`, `row_names`, `copy` ...).
    """
    histories, occasions, sources, rows = responses.shape
    kept = responses > 0
    counts = kept.sum(axis=3).reshape(histories * occasions, sources)
    offsets = np.zeros((histories * occasions, sources + 1), np.int64)
    starts = np.concatenate([[0], np.cumsum(counts.sum(axis=1))[:-1]])
    offsets[:, 1:] = np.cumsum(counts, axis=1)
    offsets += starts[:, None]
    shape = (histories, occasions, sources)
    fields: dict[str, Any] = {
        "bank": "A",
        "seed": 1,
        "row_names": tuple(f"row{index}" for index in range(rows)),
        "source_names": tuple(f"row{index}" for index in range(rows))
        + tuple(f"line:l{index}" for index in range(sources - rows)),
        "occasions": tuple(
            Occasion(f"occasion {index}", datetime(2026, 3, 9 + index, 9, tzinfo=UTC), "rulebook_hour")
            for index in range(occasions)
        ),
        "lines": ("l0",),
        "days": (FIRST_DAY,),
        "copy": (np.arange(histories) % 20).astype(np.int16),
        "offsets": offsets.reshape(histories, occasions, sources + 1),
        "row_index": np.nonzero(kept)[3].astype(np.uint16),
        "code": encode(responses[kept]),
        "niche": np.ones(shape, np.float32),
        "product": np.zeros((histories, 1, 1, sources), np.float32),
        "founded_before": np.ones(shape, np.bool_),
        "multipliers": {},
        "saturated": 0,
    }
    return ResponseBank(**{**fields, **changed})


def random_bank(histories: int = 60, rooms: int = 2, sites: int = 12, *, seed: int = 5, **changed: Any) -> ResponseBank:
    """An invented bank with `sites` site rows, a 'rest of room' row per room and one incoming line.

    Sites are named by 32 hexadecimal digits as site keys are; site i belongs to room i mod rooms. Responses
    are lognormal, one in four present, strongest at the source itself. `occasions`, `days` may be changed by count.
    """
    draw = np.random.default_rng(seed)
    occasions = changed.pop("occasion_count", 1)
    days = changed.pop("day_count", 3)
    rows, sources = sites + rooms, sites + rooms + 1
    shape = (histories, occasions, sources, rows)
    responses = np.where(draw.random(shape) < 0.25, np.exp(draw.normal(-9, 3, shape)), 0.0)
    own = np.arange(rows)
    responses[:, :, own, own] = np.exp(draw.normal(-5, 1, (histories, occasions, rows)))
    names = tuple(f"{index:032x}" for index in range(1, sites + 1)) + tuple(f"room:r{i}" for i in range(rooms))
    fields: dict[str, Any] = {
        "row_names": names,
        "source_names": (*names, "line:l0"),
        "days": tuple(FIRST_DAY + timedelta(days=day) for day in range(days)),
        "niche": draw.uniform(0.1, 1, shape[:3]).astype(np.float32),
        "product": np.exp(draw.normal(-7, 2, (histories, 1, days, sources))).astype(np.float32),
        "founded_before": np.ones(shape[:3], np.bool_),
        "multipliers": {
            "rate.splash": np.exp(draw.normal(0, 0.7, histories)).astype(np.float32),
            "fraction.line": np.exp(draw.normal(0, 0.8, histories)).astype(np.float32),
        },
    }
    return bank_of(responses, **{**fields, **changed})
