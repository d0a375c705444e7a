"""What a table may hold: each field with the headers people give it."""

import re
from dataclasses import dataclass
from functools import lru_cache

from rapidfuzz import fuzz

from swabwright.tables.units import FACTORS, Kind

FULL = 100.0
CONTAINED = 92.0
"""Score of a header that holds every word of a synonym and others too, before each other word takes its share."""
PER_OTHER_WORD = 8.0


@dataclass(frozen=True)
class Field:
    """A column that a table may have: its id, the headers it goes by, and the unit it is turned into."""

    id: str
    called: tuple[str, ...]
    kind: Kind | None = None
    """None: text, a date or a time, taken as it stands."""
    key: bool = False
    """A row in which every key field is empty is no row of the table."""

    def score(self, header: str) -> float:
        """How well a header fits, 0 to 100."""
        return max((_score(header, name) for name in self.called), default=0.0)


@dataclass(frozen=True)
class TableFields:
    """The fields of one kind of table, and the least score by which a header is taken for one of them."""

    name: str
    fields: tuple[Field, ...]
    least_score: float

    def unit_kinds(self) -> tuple[Kind, ...]:
        """The kinds of quantity this table holds, to tell a unit in a header from a word."""
        return tuple({field.kind: None for field in self.fields if field.kind})

    def is_unit(self, unit: str) -> bool:
        """Whether this tidy word is a unit of any of the table's quantities."""
        return any(unit in FACTORS[kind] for kind in self.unit_kinds())

    def key_ids(self) -> tuple[str, ...]:
        """Ids of the key fields."""
        return tuple(field.id for field in self.fields if field.key)


@lru_cache(maxsize=8192)
def words_of(text: str) -> tuple[str, ...]:
    """The words of a text in lower case, marks and bare numbers left out."""
    return tuple(word for word in re.findall(r"[^\W_]+", text.lower()) if not word.isdigit())


@lru_cache(maxsize=65_536)
def _score(header: str, name: str) -> float:
    have, want = words_of(header), words_of(name)
    if not have or not want:
        return 0.0
    if set(want) == set(have):
        return FULL
    likeness = fuzz.token_sort_ratio(" ".join(have), " ".join(want))
    # Headers say more than the field: "Room where it is" holds the room all the same.
    if set(want) < set(have):
        return max(likeness, CONTAINED - PER_OTHER_WORD * (len(have) - len(want)))
    return likeness
