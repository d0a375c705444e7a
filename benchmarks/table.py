"""One measured figure beside the bar it has to reach, and the table of all of them."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Row:
    """A measure: its number in the list of acceptance figures, what came out, and whether the bar is met."""

    number: str
    measure: str
    measured: str
    must: str
    aim: str
    met: bool | None
    """None: reported only, or undecided with the numbers at hand."""
    note: str = ""


def verdict(row: Row) -> str:
    """The word in the table's last column."""
    return {True: "met", False: "NOT met", None: "reported"}[row.met]


def printed(rows: Iterable[Row]) -> str:
    """The table as aligned text, one line a measure and its note below it."""
    lines = []
    for row in rows:
        lines.append(f"{row.number:>3}  {row.measure}")
        lines.append(f"     measured {row.measured}; must {row.must}; aim {row.aim}; {verdict(row)}")
        if row.note:
            lines.append(f"     {row.note}")
    return "\n".join(lines)
