"""A plant's own words for a kind of site, matched to a site type of the catalogue with a score."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from rapidfuzz import fuzz

from swabwright.plant.catalogue import Catalogue
from swabwright.plant.imports.context import Context
from swabwright.plant.imports.notes import Unmatched
from swabwright.tables.fields import words_of
from swabwright.tables.table import Row

EXACT = 100.0
CONTAINED = 88.0
"""Score of words that hold a whole name of a type; every word of that name adds, every other word takes off."""
PER_WORD = 3.0
PER_OTHER_WORD = 2.0
LEAVE_OUT = "leave out"


@dataclass(frozen=True)
class KindMatch:
    """A site type and how well the plant's words fit it, 0 to 100."""

    type: str
    score: float


def match_kind(text: str, catalogue: Catalogue) -> KindMatch:
    """The site type whose names the words fit best."""
    words = _stems(text)
    scored = [
        (max(_score(words, _stems(name)) for name in (kind.name, identifier, *kind.also_called)), identifier)
        for identifier, kind in catalogue.site_types.items()
    ]
    score, identifier = max(scored, key=lambda pair: pair[0])
    return KindMatch(identifier, score)


def kind_of(row: Row, context: Context) -> str | None:
    """The site type of a row; None when the mapping leaves it out, or when it is held apart as unmatched."""
    text = row.text("kind") or row.text("name")
    said = _said(text, context.mapping.kinds)
    if said is not None:
        return _as_said(said, text, row, context)
    match = match_kind(text, context.catalogue)
    least = context.words.number("kind.least_score")
    # A vague kind ("swab") often stands beside a name that says it ("drain by the door").
    if match.score < least and row.text("name") != text:
        both = match_kind(f"{text} {row.text('name')}", context.catalogue)
        match = max(match, both, key=lambda each: each.score)
    if match.score < least:
        context.notes.unmatched.append(Unmatched(row.where, text, match.type, match.score))
        return None
    context.notes.guess(f"'{text}' is taken for site type {match.type} (score {match.score:.0f})")
    if match.score < EXACT:
        context.notes.assume(f"sites[{row.text('code')}].type", f"'{text}' fits with a score of {match.score:.0f}")
    return match.type


def _said(text: str, kinds: Mapping[str, str]) -> str | None:
    return next((kind for words, kind in kinds.items() if words.casefold() == text.casefold()), None)


def _as_said(said: str, text: str, row: Row, context: Context) -> str | None:
    if said.casefold() == LEAVE_OUT:
        context.notes.put_aside(row.where, text, "the mapping leaves this kind out")
        return None
    if said not in context.catalogue.site_types:
        context.notes.fault(f"mapping, kinds.'{text}'", f"no site type '{said}' in the catalogue")
        return None
    return said


@lru_cache(maxsize=4096)
def _stems(text: str) -> frozenset[str]:
    """Words without a plural s, so that 'drains' and 'drain' are one."""
    return frozenset(word[:-1] if len(word) > 3 and word.endswith("s") else word for word in words_of(text))


def _score(words: frozenset[str], name: frozenset[str]) -> float:
    if not words or not name:
        return 0.0
    if words == name:
        return EXACT
    likeness = fuzz.token_sort_ratio(" ".join(sorted(words)), " ".join(sorted(name)))
    if name < words:
        contained = CONTAINED + PER_WORD * len(name) - PER_OTHER_WORD * len(words - name)
        return max(likeness, min(contained, EXACT - 1))
    return float(likeness)
