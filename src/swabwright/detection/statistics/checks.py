"""Arguments looked at before anything is computed: a wrong one is refused by its name."""

from collections.abc import Sequence
from math import isfinite

from swabwright.errors import SwabwrightError


class ArgumentRefused(SwabwrightError):
    """A number that cannot be what its name says; tells which argument, what was given and what would do."""

    def __init__(self, argument: str, problem: str) -> None:
        self.argument = argument
        self.problem = problem
        super().__init__(f"{argument}: {problem}")


def probability(argument: str, value: float) -> float:
    """A share or chance from 0 to 1, both allowed; anything else is refused."""
    if not (isfinite(value) and 0.0 <= value <= 1.0):
        raise ArgumentRefused(argument, f"{value:g} is not a share from 0 to 1{_percent(value)}")
    return float(value)


def inner_probability(argument: str, value: float) -> float:
    """A share or chance above 0 and below 1; the ends are refused because no number of samples answers to them."""
    if probability(argument, value) in (0.0, 1.0):
        raise ArgumentRefused(argument, f"{value:g} must lie above 0 and below 1")
    return float(value)


def some_probability(argument: str, value: float) -> float:
    """A share or chance above 0, 1 allowed."""
    if probability(argument, value) == 0.0:
        raise ArgumentRefused(argument, "0 must be above 0; nothing could ever be detected")
    return float(value)


def count(argument: str, value: float, least: int = 0) -> int:
    """A whole number of at least `least`."""
    if not isfinite(value) or value != int(value) or value < least:
        raise ArgumentRefused(argument, f"{value:g} is not a whole number of {least} or more")
    return int(value)


def positive(argument: str, value: float) -> float:
    """A finite number above 0, such as a mass, a volume or a relative risk."""
    if not (isfinite(value) and value > 0.0):
        raise ArgumentRefused(argument, f"{value:g} is not a finite number above 0")
    return float(value)


def within(argument: str, value: float, whole: str, total: float) -> int:
    """A count that is part of a larger one: samples of a population, positives of the samples tested."""
    part = count(argument, value)
    if part > total:
        raise ArgumentRefused(argument, f"{part} is more than the {total:g} of {whole}")
    return part


def one_of(argument: str, value: str, known: Sequence[str]) -> str:
    """One of the `known` words; anything else is refused with the list."""
    if value not in known:
        raise ArgumentRefused(argument, f"'{value}' is not one of: {', '.join(known)}")
    return value


def some(argument: str, values: Sequence[object]) -> None:
    """Refuse an empty list."""
    if not values:
        raise ArgumentRefused(argument, "give at least one")


def _percent(value: float) -> str:
    # The likeliest slip: 95 typed for 0.95.
    return f"; did you mean {value / 100:g}?" if 1.0 < value <= 100.0 else ""
