"""Phrases that no paper may say, with the uses that are allowed: one list for templates, data and finished papers."""

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True)
class Banned:
    """One banned word as a pattern, why it is banned, and the phrases in which it may stand."""

    word: re.Pattern[str]
    why: str
    allowed: tuple[re.Pattern[str], ...]


@cache
def banned_list() -> tuple[Banned, ...]:
    """The list as the data file gives it."""
    text = files("swabwright.reports").joinpath("banned_phrases.toml").read_text(encoding="utf-8")
    return tuple(
        Banned(_whole_words(entry["word"]), entry["why"], tuple(_whole_words(phrase) for phrase in entry["allowed"]))
        for entry in tomllib.loads(text)["banned"]
    )


def _whole_words(pattern: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![\w-])(?:{pattern})(?![\w-])", re.IGNORECASE)


def banned_phrases(text: str) -> list[str]:
    """What a text says that it may not, each with its surroundings and the reason; empty for a sound text."""
    found = []
    for entry in banned_list():
        spans = [match.span() for phrase in entry.allowed for match in phrase.finditer(text)]
        for match in entry.word.finditer(text):
            if not any(start <= match.start() and match.end() <= end for start, end in spans):
                around = " ".join(text[max(0, match.start() - 30) : match.end() + 30].split())
                found.append(f"'{match.group()}' in '...{around}...': {entry.why}")
    return found
