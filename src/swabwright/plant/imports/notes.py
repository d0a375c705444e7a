"""What the import has guessed, assumed, held apart and found wrong, gathered while it works."""

from dataclasses import dataclass, field

from swabwright.errors import Fault
from swabwright.tables.table import SetAside


@dataclass(frozen=True)
class Unmatched:
    """Words that no site type was found for, where they stand, and the nearest type with its score."""

    where: str
    text: str
    nearest: str
    score: float

    def __str__(self) -> str:
        return (
            f"{self.where}: no site type fits '{self.text}' (nearest {self.nearest}, score {self.score:.0f}); "
            f'say which in the mapping file, [kinds] "{self.text}" = "{self.nearest}", or "leave out"'
        )


@dataclass
class Notes:
    """The import's own record; every list keeps the order in which things were met."""

    guesses: list[str] = field(default_factory=list)
    unmatched: list[Unmatched] = field(default_factory=list)
    set_aside: list[SetAside] = field(default_factory=list)
    assumptions: dict[str, str] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def guess(self, sentence: str) -> None:
        """Remember something guessed, once."""
        if sentence not in self.guesses:
            self.guesses.append(sentence)

    def assume(self, path: str, reason: str) -> None:
        """Remember that nobody has confirmed the value at `path`, and why; at most 400 characters are kept."""
        self.assumptions[path] = reason[:400]

    def put_aside(self, where: str, text: str, reason: str) -> None:
        """Remember something that was not used, and why."""
        self.set_aside.append(SetAside(where, text, reason))

    def fault(self, where: str, problem: str) -> None:
        """Remember something that stops the import."""
        self.faults.append(Fault(where, problem))
