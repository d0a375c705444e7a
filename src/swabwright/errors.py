"""Every error that Swabwright shows to a person, as one small tree."""

from collections.abc import Sequence
from dataclasses import dataclass
from difflib import get_close_matches


class SwabwrightError(Exception):
    """Something a person can mend; the message says what is wrong, where, and what to do."""


@dataclass(frozen=True)
class Fault:
    """One fault in a document: where it is (`sites[14].room`) and what is wrong, with the remedy."""

    path: str
    problem: str

    def __str__(self) -> str:
        return f"{self.path}: {self.problem}" if self.path else self.problem


class DocumentRefused(SwabwrightError):
    """A document that cannot be used as it stands; names every fault found in it."""

    def __init__(self, document: str, faults: Sequence[Fault]) -> None:
        self.document = document
        self.faults = tuple(faults)
        super().__init__("\n".join(f"{document}: {fault}" for fault in self.faults))


class LimitsClash(SwabwrightError):
    """Limits that no plan can meet; says which clash and the smallest change that helps."""


class NothingFits(SwabwrightError):
    """Stated facts that no hypothesis can explain; says which fact."""


def did_you_mean(word: str, known: Sequence[str]) -> str:
    """The hint '; did you mean 'slicing'?' for a word that is nearly one of `known`, else the known words."""
    near = get_close_matches(word, known, n=1, cutoff=0.6)
    if near:
        return f"; did you mean '{near[0]}'?"
    return f"; known: {', '.join(sorted(known)[:12])}" if known else ""
