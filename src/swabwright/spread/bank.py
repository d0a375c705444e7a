"""The response bank: what a unit niche at every source puts on every site, over many histories."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

import numpy as np
import numpy.typing as npt

BankName = Literal["A", "B", "C"]
Phase = Literal["before_start", "rulebook_hour", "last_hour"]
FloatArray = npt.NDArray[np.float32]


@dataclass(frozen=True)
class Occasion:
    """A moment at which surfaces are read: a visit or an earlier date, and a phase of the day."""

    name: str
    at: datetime
    phase: Phase


@dataclass(frozen=True)
class Column:
    """What one niche puts on the rows at one occasion: row indices and CFU per unit of capacity."""

    rows: npt.NDArray[np.uint16]
    loads: FloatArray


@dataclass(frozen=True)
class ResponseBank:
    """Responses of every row to a unit niche at every source, over E histories.

    rows: sites and one 'rest of room' per room. sources: the rows, then 'incoming material' per line.
    Sparse by (history, occasion, source): `offsets[e, r, c] .. offsets[e, r, c + 1]` bounds the entries of
    `row_index` and `code`; a code 0 is none, else 2**((code - 57344) / 2048) CFU per unit of capacity.
    """

    bank: BankName
    seed: int
    row_names: tuple[str, ...]
    """Site key, or `room:<id>` for the rest of a room."""
    source_names: tuple[str, ...]
    """The row names, then `line:<id>` for incoming material."""
    occasions: tuple[Occasion, ...]
    lines: tuple[str, ...]
    days: tuple[date, ...]
    copy: npt.NDArray[np.int16]
    """Structural copy of each history, shape (E,)."""
    offsets: npt.NDArray[np.int64]
    """Shape (E, occasions, sources + 1)."""
    row_index: npt.NDArray[np.uint16]
    code: npt.NDArray[np.uint16]
    niche: FloatArray
    """Niche level relative to capacity, shape (E, occasions, sources)."""
    product: FloatArray
    """CFU a day per unit of capacity in the product, shape (E, lines, days, sources)."""
    founded_before: npt.NDArray[np.bool_]
    """Whether the niche has been founded by the occasion, removed since or not, (E, occasions, sources)."""
    multipliers: dict[str, FloatArray]
    """Per-history draws by name (`rate.splash`, `fraction.line`), shape (E,), for the influence of figures."""
    saturated: int
    """Entries that the code could not hold (reported, never silent)."""

    @property
    def histories(self) -> int:
        """Number of histories E."""
        return int(self.copy.shape[0])

    def column(self, history: int, occasion: int, source: int) -> Column:
        """The loads that a unit niche at `source` puts on the rows in one history and occasion."""
        first, last = self.offsets[history, occasion, source : source + 2]
        return Column(self.row_index[first:last], decode(self.code[first:last]))


def decode(code: npt.NDArray[np.uint16]) -> FloatArray:
    """CFU per unit of capacity of stored codes; 0 stays 0."""
    loads = np.exp2((code.astype(np.float32) - np.float32(57344)) / np.float32(2048))
    return np.where(code == 0, np.float32(0), loads).astype(np.float32)
