"""One thing that nobody has said yet, before it gets its letter; and names in a row."""

from collections.abc import Sequence
from dataclasses import dataclass

SHOWN = 6
"""So many names stand in one sentence; the rest are counted."""


@dataclass(frozen=True)
class Gap:
    """What is missing (a sentence), where it belongs, what to do, and whether it moves the plan."""

    text: str
    path: str
    remedy: str
    important: bool = False


def in_a_row(names: Sequence[str]) -> str:
    """Names as they stand in a sentence: 'S001, S002 and S003', or the first six 'and 9 more'."""
    if len(names) > SHOWN:
        return f"{', '.join(names[:SHOWN])} and {len(names) - SHOWN} more"
    return " and ".join(part for part in (", ".join(names[:-1]), names[-1]) if part)
