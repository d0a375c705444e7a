"""Which column is which field: guessed from the headers, corrected by a person."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from swabwright.errors import Fault, SwabwrightError, did_you_mean
from swabwright.tables.fields import FULL, Field, TableFields
from swabwright.tables.grid import column_letter
from swabwright.tables.units import FACTORS

MOSTLY = 0.5
"""Least share of cells with a number in a column taken for a quantity."""
LOWER_ROW_ALONE = 1.0
"""What a match by the lower of two header rows alone counts less."""


@dataclass(frozen=True)
class ColumnHeader:
    """What stands above a column, and whether numbers stand in it."""

    words: str
    unit: str | None = None
    last: str = ""
    """Under a header of two rows: the words of the lower one alone."""
    numeric: float = 0.0
    """Share of the filled cells below that begin with a number."""

    def score(self, field: Field) -> float:
        """How well this column fits a field, 0 to 100; a unit of another kind, or words for a quantity, rule it out."""
        if self.unit and not (field.kind and self.unit in FACTORS[field.kind]):
            return 0.0
        if field.kind and not self.unit and self.numeric < MOSTLY:
            return 0.0
        return max(field.score(self.words), field.score(self.last) - LOWER_ROW_ALONE)


@dataclass(frozen=True)
class Guess:
    """A column taken for a field: its letter, header, unit, how well it fits, and who said so."""

    column: int
    header: str
    field: str
    score: float
    unit: str | None = None
    corrected: bool = False

    @property
    def letter(self) -> str:
        """The spreadsheet's letter of the column."""
        return column_letter(self.column)

    def __str__(self) -> str:
        said = "as the mapping says" if self.corrected else f"score {self.score:.0f}"
        unit = f", in {self.unit}" if self.unit else ""
        return f"column {self.letter} '{self.header}' is {self.field}{unit} ({said})"


@dataclass(frozen=True)
class Corrections:
    """What a person has said about a table: where its header stands and which column is which field."""

    header_row: int | None = None
    """As the spreadsheet counts: the first row is 1."""
    header_rows: int = 1
    columns: dict[str, str] = field(default_factory=dict)
    """Field id to `column D` or to the header's own words."""
    ignore: tuple[str, ...] = ()
    """Columns that are no field, written in the same way."""


def guess_columns(headers: Sequence[ColumnHeader], table: TableFields, corrections: Corrections) -> tuple[Guess, ...]:
    """Every column that is taken for a field, in column order; no field and no column twice."""
    said = _said(headers, table, corrections)
    taken = {guess.column for guess in said} | {_find(name, headers, table.name) for name in corrections.ignore}
    fields = {guess.field for guess in said}
    guesses = list(said)
    for guess in _ranked(headers, table):
        if guess.column not in taken and guess.field not in fields:
            guesses.append(guess)
            taken.add(guess.column)
            fields.add(guess.field)
    return tuple(sorted(guesses, key=lambda guess: guess.column))


def _ranked(headers: Sequence[ColumnHeader], table: TableFields) -> list[Guess]:
    """Every pairing of a column and a field that is good enough, the best first; of equals a quantity first."""
    pairings = [
        (Guess(column, header.words, field.id, score, header.unit), field.kind is None)
        for column, header in enumerate(headers)
        for field in table.fields
        if header.words and (score := header.score(field)) >= table.least_score
    ]
    # A quantity beats a word of the same score: "Area" over numbers is an area, not a room.
    ranked = sorted(pairings, key=lambda pairing: (-pairing[0].score, pairing[1], pairing[0].column))
    return [guess for guess, _ in ranked]


def _said(headers: Sequence[ColumnHeader], table: TableFields, corrections: Corrections) -> tuple[Guess, ...]:
    known = [field.id for field in table.fields]
    said = []
    for field_id, name in corrections.columns.items():
        if field_id not in known:
            problem = f"no field '{field_id}'{did_you_mean(field_id, known)}"
            raise SwabwrightError(str(Fault(f"sheets.{table.name}.columns", problem)))
        column = _find(name, headers, table.name)
        header = headers[column]
        said.append(Guess(column, header.words, field_id, FULL, header.unit, corrected=True))
    return tuple(said)


def _find(name: str, headers: Sequence[ColumnHeader], table: str) -> int:
    """The column that a mapping names by letter or by its header."""
    for column, header in enumerate(headers):
        if name.casefold() in (f"column {column_letter(column)}".casefold(), header.words.casefold()):
            return column
    known = [header.words for header in headers if header.words]
    raise SwabwrightError(f"mapping, sheets.{table}: no column '{name}' in the sheet{did_you_mean(name, known)}")
