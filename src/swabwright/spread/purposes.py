"""What random words are drawn for; each purpose has streams of its own in every bank."""

from enum import IntEnum

from swabwright.compute.keys import stream_key
from swabwright.spread.bank import BankName

BANKS: dict[BankName, int] = {"A": 1, "B": 2, "C": 3}


class Purpose(IntEnum):
    """One number a purpose; never reused for another."""

    EVENT = 0
    CLEANING = 1
    HISTORY = 2
    STRUCTURE = 3
    FOUNDING = 4
    SHEDDING = 5
    SIZE = 8
    """And the three after it: one for each lane of a block."""
    TREATMENT = 12


def key_of(seed: int, bank: BankName, purpose: Purpose, lane: int = 0) -> tuple[int, int]:
    """The key of a purpose in a bank under a seed."""
    return stream_key(seed, BANKS[bank], int(purpose) + lane)
