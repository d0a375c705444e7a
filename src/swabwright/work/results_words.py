"""The words by which a laboratory's table is understood (data/results.toml), and those that a mapping adds."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any, Literal, cast

from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.figures import Figures
from swabwright.plant.registry import data_files
from swabwright.record.laboratory import Outcome
from swabwright.tables.fields import Field, TableFields

Status = Literal["preliminary", "final", "amended"]
Meaning = Literal["not_detected", "presumptive", "detected", "confirmed", "no_valid_result", "pending"]
MEANINGS: tuple[str, ...] = ("not_detected", "presumptive", "detected", "confirmed", "no_valid_result", "pending")


@dataclass(frozen=True)
class ResultWords:
    """Headers and words of results, with the words that a laboratory's own mapping adds."""

    data: Mapping[str, Any]
    outcomes: Mapping[str, str] = field(default_factory=dict)
    """A laboratory's own words, to the outcome meant."""
    organisms: Mapping[str, str] = field(default_factory=dict)
    """A laboratory's own names, to the organism's id."""

    def columns(self, figures: Figures) -> TableFields:
        """The columns that a table of results may have."""
        fields = tuple(Field(name, tuple(at["called"]), key=at.get("key", False)) for name, at in self._of("columns"))
        return TableFields("results", fields, figures.number("result.least_header_score"))

    def head(self, label: str) -> str | None:
        """Which fact of the whole report a label above the header names, or None."""
        return _exact(label.rstrip(" :"), dict(self._of("head")))

    def status(self, word: str) -> Status | None:
        """The status that a word means, or None."""
        return cast("Status | None", _exact(word, {name: (name, *words) for name, words in self._of("statuses")}))

    def outcome(self, word: str, status: Status) -> Outcome | Literal["pending"] | None:
        """What a laboratory's word means in a report of this status; None for a word that nobody has explained.

        'Detected' in a preliminary report is presumptive, as nothing in it is confirmed yet.
        """
        own = _exact(word, self._own_words())
        meaning = own or _exact(self._bare(word), dict(self._of("outcomes")))
        if meaning == "detected" and status == "preliminary" and own is None:
            return "presumptive"
        plain = "detected" if meaning == "confirmed" else meaning
        return cast("Outcome | Literal['pending'] | None", plain)

    def organism(self, word: str) -> str | None:
        """The id of the organism that a laboratory's name means, or None."""
        own = {plain(name): organism for name, organism in self.organisms.items()}
        named = {name: (name, at["name"], *at["called"]) for name, at in self._of("organisms")}
        return own.get(plain(word)) or _exact(word, named)

    def name_of(self, organism: str) -> str:
        """The full name of an organism by its id."""
        known = self.data["organisms"]
        if organism not in known:
            raise SwabwrightError(f"no organism '{organism}' among results{did_you_mean(organism, list(known))}")
        return str(known[organism]["name"])

    def indicators_of(self, organism: str) -> tuple[str, ...]:
        """Full names of the indicator organisms that are tested for in its place."""
        return tuple(self.name_of(one) for one in self.data["organisms"].get(organism, {}).get("indicators", ()))

    def times(self, kind: Literal["moments", "days"]) -> tuple[str, ...]:
        """The ways in which moments or days are written."""
        return tuple(self.data["times"][kind])

    def _own_words(self) -> dict[str, list[str]]:
        return {meaning: [word for word, of in self.outcomes.items() if of == meaning] for meaning in MEANINGS}

    def _bare(self, word: str) -> str:
        text = plain(word)
        for pattern in self.data["tails"]["patterns"]:
            text = re.sub(pattern, "", text)
        return text

    def _of(self, table: str) -> Sequence[tuple[str, Any]]:
        return tuple(self.data[table].items())


@cache
def result_words() -> ResultWords:
    """The words that come with the program."""
    return ResultWords(data_files()["results.toml"])


def plain(text: str) -> str:
    """A word in small letters with single spaces, as words are compared."""
    return " ".join(text.casefold().split())


def _exact(word: str, table: Mapping[str, Sequence[str]]) -> str | None:
    wanted = plain(word)
    return next((name for name, words in table.items() if wanted in map(plain, words)), None)
