"""Names: the short identifier of a thing, and which of the known names somebody meant."""

import re
import unicodedata
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from rapidfuzz import fuzz


@dataclass(frozen=True)
class NameMatch:
    """The id that a written name is taken for, and how alike they are (100: the same words)."""

    id: str
    score: float


def make_id(name: str, taken: Collection[str], fallback: str) -> str:
    """A short lower-case identifier from a name, unlike every one already taken."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    stem = re.sub(r"[^a-z0-9]+", "-", plain.casefold()).strip("-")[:56] or fallback
    number, identifier = 1, stem
    while identifier in taken:
        number += 1
        identifier = f"{stem}-{number}"
    return identifier


def find_name(text: str, names: Mapping[str, str], least: float) -> NameMatch | None:
    """The id (of `names`: id to name) whose name is most like the text; None below `least` or when two tie."""
    wanted = plain_name(text)
    if not wanted:
        return None
    for identifier, name in names.items():
        if wanted in (plain_name(name), plain_name(identifier)):
            return NameMatch(identifier, 100.0)
    scored = sorted(((_score(wanted, plain_name(name)), key) for key, name in names.items()), reverse=True)
    if not scored or scored[0][0] < least:
        return None
    # Two names alike to the same degree: choosing would be a coin toss.
    if len(scored) > 1 and scored[1][0] == scored[0][0]:
        return None
    return NameMatch(scored[0][1], scored[0][0])


def plain_name(text: str) -> str:
    """A name without case, marks and doubled spaces, as names are compared."""
    return " ".join(re.findall(r"[^\W_]+", text.casefold()))


def _score(wanted: str, name: str) -> float:
    """Likeness of two names; a number or single letter that differs tells two things apart (Line A, Line B)."""
    if _marks(wanted) != _marks(name) and _marks(wanted) and _marks(name):
        return 0.0
    shorter, longer = sorted((set(wanted.split()), set(name.split())), key=len)
    if shorter and shorter <= longer:
        return 100.0 - 5.0 * (len(longer) - len(shorter))
    return fuzz.token_sort_ratio(wanted, name)


def _marks(text: str) -> set[str]:
    return {word for word in text.split() if word.isdigit() or len(word) == 1}
