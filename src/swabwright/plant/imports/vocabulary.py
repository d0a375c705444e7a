"""The words by which the import understands a plant's sheets and drawings (data/imports.toml)."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rapidfuzz import fuzz

from swabwright.plant.figures import Figures
from swabwright.plant.registry import data_files
from swabwright.tables.fields import Field, TableFields, words_of


@dataclass(frozen=True)
class RoomWords:
    """What a word in a room's name says about it."""

    words: frozenset[str]
    hygiene_class: int
    exposed_product: bool
    wetness: str
    temperature: str
    """Last part of the figure's name: `import.temperature.<this>`."""


@dataclass(frozen=True)
class Vocabulary:
    """Headers, layers, words and defaults; every entry can be overruled by a mapping."""

    data: Mapping[str, Any]
    figures: Figures

    def number(self, name: str) -> float:
        """The figure `import.<name>`."""
        return self.figures.number(f"import.{name}")

    def sheet(self, role: str) -> TableFields:
        """The fields of one kind of sheet."""
        entries = self.data["sheets"][role]["fields"]
        fields = tuple(_field(name, entry) for name, entry in entries.items())
        return TableFields(role, fields, self.number("header.least_score"))

    def roles(self) -> tuple[str, ...]:
        """Every kind of sheet that is looked for."""
        return tuple(self.data["sheets"])

    def called(self, role: str) -> tuple[str, ...]:
        """Names that a sheet of this kind goes by."""
        return tuple(self.data["sheets"][role]["called"])

    def layers(self) -> dict[str, tuple[str, ...]]:
        """The names that layers go by, for each kind of thing drawn."""
        return {role: tuple(names) for role, names in self.data["layers"].items()}

    def room_words(self, name: str) -> RoomWords:
        """The first entry whose words occur in a room's name; the last entry fits every name."""
        have = set(words_of(name))
        entries = [RoomWords(**{**entry, "words": frozenset(entry["words"])}) for entry in self.data["rooms"]["words"]]
        return next((entry for entry in entries if entry.words & have), entries[-1])

    def means(self, text: str, *choices: str) -> str | None:
        """Which of `choices` (entries of [words]) a text means, exactly and then by its words; None when none."""
        table = {choice: self.data["words"][choice] for choice in choices}
        return look_up(text, table, FIRMLY)

    def chemistry(self, text: str) -> str | None:
        """The chemistry that a plant's words for a disinfectant mean, or None."""
        return look_up(text, self.data["chemistry"], self.number("kind.least_score"))

    def surface(self, text: str) -> str | None:
        """The surface of the catalogue that a plant's words for a material mean, or None."""
        return look_up(text, self.data["surfaces"], self.number("kind.least_score"))


FIRMLY = 90.0
"""Least likeness for the few words that choose between two or three meanings."""


def load_vocabulary(figures: Figures) -> Vocabulary:
    """The words that come with the program, with the figures in force."""
    return Vocabulary(data_files()["imports.toml"], figures)


def look_up(text: str, table: Mapping[str, Sequence[str]], least: float) -> str | None:
    """The entry one of whose words is most like the text, when it is like enough; its own id counts as a word."""
    plain = " ".join(text.casefold().split())
    scored = [(_likeness(plain, word), entry) for entry, words in table.items() for word in (entry, *words)]
    score, best = max(scored, key=lambda pair: pair[0], default=(0.0, None))
    return best if score >= least else None


def _likeness(text: str, word: str) -> float:
    if text == word.casefold():
        return 101.0
    # Two letters are alike to too many words to be judged by likeness.
    if len(word) < LEAST_LETTERS or len(text) < LEAST_LETTERS:
        return 0.0
    return fuzz.token_set_ratio(text, word.casefold().replace("_", " ")) - abs(len(text) - len(word)) * PER_LETTER


LEAST_LETTERS = 3
"""Shorter words must be the same to the letter."""
PER_LETTER = 0.1
"""What each letter of difference in length takes off, so that of two words that fit the fuller one wins."""


def _field(name: str, entry: Mapping[str, Any]) -> Field:
    return Field(name, tuple(entry["called"]), entry.get("kind"), entry.get("key", False))
