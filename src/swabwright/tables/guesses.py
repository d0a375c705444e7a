"""Which column is which field: guessed from the headers, corrected by a person."""

from collections.abc import Sequence
from dataclasses import dataclass, field

from swabwright.errors import Fault, SwabwrightError, did_you_mean
from swabwright.tables.fields import FULL, TableFields
from swabwright.tables.grid import column_letter


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


def guess_columns(
    headers: Sequence[tuple[str, str | None]], table: TableFields, corrections: Corrections
) -> tuple[Guess, ...]:
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


def _ranked(headers: Sequence[tuple[str, str | None]], table: TableFields) -> list[Guess]:
    """Every pairing of a column and a field that is good enough, the best first."""
    pairings = [
        Guess(column, words, field.id, score, unit)
        for column, (words, unit) in enumerate(headers)
        for field in table.fields
        if words and (score := field.score(words)) >= table.least_score
    ]
    return sorted(pairings, key=lambda guess: (-guess.score, guess.column))


def _said(headers: Sequence[tuple[str, str | None]], table: TableFields, corrections: Corrections) -> tuple[Guess, ...]:
    known = [field.id for field in table.fields]
    said = []
    for field_id, name in corrections.columns.items():
        if field_id not in known:
            problem = f"no field '{field_id}'{did_you_mean(field_id, known)}"
            raise SwabwrightError(str(Fault(f"sheets.{table.name}.columns", problem)))
        column = _find(name, headers, table.name)
        words, unit = headers[column]
        said.append(Guess(column, words, field_id, FULL, unit, corrected=True))
    return tuple(said)


def _find(name: str, headers: Sequence[tuple[str, str | None]], table: str) -> int:
    """The column that a mapping names by letter or by its header."""
    for column, (words, _) in enumerate(headers):
        if name.casefold() in (f"column {column_letter(column)}".casefold(), words.casefold()):
            return column
    known = [words for words, _ in headers if words]
    raise SwabwrightError(f"mapping, sheets.{table}: no column '{name}' in the sheet{did_you_mean(name, known)}")
