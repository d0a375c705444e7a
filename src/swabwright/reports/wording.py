"""How dates, spans and lists are said on paper."""

from collections.abc import Sequence
from datetime import date

from swabwright.case.words import counted

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
          "December")  # fmt: skip


def long_date(day: date) -> str:
    """'Thursday 5 March 2026'."""
    return f"{DAYS[day.weekday()]} {short_date(day)} {day.year}"


def short_date(day: date) -> str:
    """'5 March'."""
    return f"{day.day} {MONTHS[day.month - 1]}"


def duration(minutes: float) -> str:
    """'3 hours 32 minutes'."""
    hours, rest = divmod(round(minutes), 60)
    parts = [counted(hours, "hour") if hours else "", counted(rest, "minute") if rest or not hours else ""]
    return " ".join(part for part in parts if part)


def listed(things: Sequence[str]) -> str:
    """'a, b and c'."""
    if len(things) < 2:
        return "".join(things)
    return f"{', '.join(things[:-1])} and {things[-1]}"


def ranges(orders: Sequence[int]) -> str:
    """'1 to 9, 12, 14 to 15' for ascending whole numbers."""
    spans: list[list[int]] = []
    for order in orders:
        if spans and order == spans[-1][-1] + 1:
            spans[-1].append(order)
        else:
            spans.append([order])
    return ", ".join(f"{span[0]} to {span[-1]}" if len(span) > 1 else str(span[0]) for span in spans)
