"""The pocket table: what a phone needs to say what the samples taken so far can find, as whole numbers.

Bytes, little-endian, one part after the other:

    8 bytes   the letters SWABPKT1
    uint32    length of the header in bytes
    header    canonical JSON (RFC 8785), whole numbers and texts only: see `header_of`
    int32     weight of each row; together WEIGHTS
    uint8     exponent of each item in each row, item after item: 255 of them make the largest exponent
    uint32    silence by summed exponent, in SCALE-ths, from 0 on; beyond the last entry it is 0
    int32     centimetres on foot between places (the base, then each item's site), the upper triangle row by row

The chance of finding with a set of items, in SCALE-ths: for each row sum the items' exponents, look up the silence,
multiply by the row's weight, sum; take that from WEIGHTS x SCALE and divide by WEIGHTS, rounding down. Every number on
the way stays below 2 to the power 53, so any language gets the same one.
"""

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
import rfc8785

from swabwright.case.canonical import bytes_hash
from swabwright.errors import SwabwrightError
from swabwright.plant.sites import Mode

MAGIC = b"SWABPKT1"
SCALE = 1 << 16
WEIGHTS = 1 << 24


@dataclass(frozen=True)
class PocketItem:
    """One item of the table: what it is, how long it takes, where it stands in the order of work."""

    site: str
    device: str
    mode: Mode
    seconds: int
    hygiene_class: int
    pass_number: int
    room: str
    rank: int
    planned: bool


@dataclass(frozen=True)
class PocketTable:
    """The table as arrays; equal tables have equal bytes."""

    items: tuple[PocketItem, ...]
    weights: npt.NDArray[np.int32]
    """(rows,), together WEIGHTS."""
    exponents: npt.NDArray[np.uint8]
    """(items, rows)"""
    silence: npt.NDArray[np.uint32]
    """By summed exponent, in SCALE-ths."""
    centimetres: npt.NDArray[np.int32]
    """(items + 1, items + 1), the base first."""

    def to_bytes(self) -> bytes:
        """The table in the layout above."""
        header = rfc8785.dumps(header_of(self))
        upper = self.centimetres[np.triu_indices(len(self.centimetres), k=1)]
        return b"".join(
            [
                MAGIC,
                len(header).to_bytes(4, "little"),
                header,
                self.weights.astype("<i4").tobytes(),
                self.exponents.tobytes(),
                self.silence.astype("<u4").tobytes(),
                upper.astype("<i4").tobytes(),
            ]
        )

    @property
    def sha256(self) -> str:
        """The hash that stands in the plan."""
        return bytes_hash(self.to_bytes())


def header_of(table: PocketTable) -> dict[str, Any]:
    """The header: sizes, scales, and each item with its place in the order of work."""
    return {
        "format": "swabwright/pocket",
        "version": 1,
        "rows": len(table.weights),
        "silences": len(table.silence),
        "scale": SCALE,
        "weights": WEIGHTS,
        "items": [asdict(item) for item in table.items],
    }


def chance_from_pocket(table: PocketTable, chosen: Iterable[int]) -> int:
    """The chance that these items find it, in SCALE-ths; whole numbers only, so every reader gets the same."""
    items = sorted(set(chosen))
    _refuse_two_at_one_site([table.items[n] for n in items])
    # Whole numbers from here to the end: no reader may round differently.
    summed = table.exponents[items].sum(axis=0, dtype=np.int64)
    last = len(table.silence)
    silence = np.where(summed < last, table.silence[np.minimum(summed, last - 1)], 0).astype(np.int64)
    silent = int((silence * table.weights.astype(np.int64)).sum())
    return (WEIGHTS * SCALE - silent) // WEIGHTS


def _refuse_two_at_one_site(items: Sequence[PocketItem]) -> None:
    taken = [item.site for item in items if not item.planned] + sorted({item.site for item in items if item.planned})
    twice = next((site for site in taken if taken.count(site) > 1), None)
    if twice is not None:
        raise SwabwrightError(f"the pocket table holds each site in one way at a time; '{twice}' is asked for in two")
