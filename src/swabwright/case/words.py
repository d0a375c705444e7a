"""How chances, counts, times and hours are said in a sentence."""

from datetime import datetime

from swabwright.case.plan import Chance

LEAST = "less than 1"
MOST = "more than 99"
UNCERTAIN = "range uncertain: "
"""How the basis of a chance begins whose range may be off."""


def out_of_100(value: float) -> str:
    """A chance as '91', 'less than 1' or 'more than 99': never 0 and never 100."""
    if value < 0.01:
        return LEAST
    return MOST if value > 0.99 else f"{100 * value:.0f}"


def in_100(value: float) -> str:
    """A chance as '91 in 100'."""
    return f"{out_of_100(value)} in 100"


def with_range(chance: Chance) -> str:
    """A chance with its range: '91 in 100 (84 to 95)'."""
    return f"{in_100(chance.value)} ({out_of_100(chance.low)} to {out_of_100(chance.high)})"


def doubt(chance: Chance) -> str:
    """Why the range of a chance may be off, as a sentence; empty when nothing says so."""
    said, _, _ = chance.basis.partition(";")
    return f"Take the range with caution: {said.removeprefix(UNCERTAIN)}." if said.startswith(UNCERTAIN) else ""


def bounded(bound: float) -> bool:
    """Whether a bound on a chance says anything, once it is said in whole numbers of 100."""
    return bound <= 0.99


def counted(number: int, noun: str) -> str:
    """A number with its noun: '1 sample', '38 samples'."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def hours_and_minutes(minutes: float) -> str:
    """Minutes as '3 h 40 min', or '40 min' under an hour."""
    hours, rest = divmod(round(minutes), 60)
    return f"{hours} h {rest:02d} min" if hours else f"{rest} min"


def clock(at: datetime) -> str:
    """A time of day as '09:05'."""
    return f"{at:%H:%M}"


def day(at: datetime) -> str:
    """A date as 'Thursday 5 March 2026'."""
    return f"{at:%A} {at.day} {at:%B} {at.year}"
