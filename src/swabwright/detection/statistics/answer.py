"""What a statistic answers: a number, its interval where it has one, and the sentence it is said in."""

from dataclasses import dataclass

SHOWN_DIGITS = 4
"""Significant digits of a number inside a sentence."""


@dataclass(frozen=True)
class Interval:
    """Between which numbers, at which level (0.95 for 95 in 100), by which method."""

    low: float
    high: float
    level: float
    method: str

    def __str__(self) -> str:
        return f"{shown(self.low)} to {shown(self.high)}, {self.method}, level {self.level:g}"


@dataclass(frozen=True)
class Answer:
    """One number that the trade asks for, and the sentence it is said in."""

    value: float
    sentence: str
    interval: Interval | None = None


@dataclass(frozen=True)
class SampleSize:
    """The smallest number of samples that reaches the aim, and what exactly it reaches."""

    value: int
    system_sensitivity: float
    system_specificity: float
    cut_point: int
    """The largest number of positives at which it still counts as not detected."""
    sentence: str


def shown(value: float) -> str:
    """A number as it is said in a sentence: four significant digits, whole numbers whole."""
    return f"{value:.{SHOWN_DIGITS}g}"


def per_100(share: float) -> str:
    """A share or chance as '94.9 in 100': one decimal where it matters, so that nearby plans can be told apart."""
    text = f"{100 * share:.1f}".removesuffix(".0")
    if text in ("0", "100") and share not in (0.0, 1.0):
        text = "less than 0.1" if text == "0" else "more than 99.9"
    return f"{text} in 100"
