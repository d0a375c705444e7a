"""A row of the laboratory's table in our words, or why it is held apart."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from swabwright.case.numbers import read_number
from swabwright.errors import SwabwrightError
from swabwright.record.laboratory import Outcome
from swabwright.tables.grid import cell_text
from swabwright.tables.table import Row
from swabwright.work.results_report import ReportFacts
from swabwright.work.results_times import read_time
from swabwright.work.results_words import ResultWords, plain

MILLION = 1_000_000
MOST_COLONIES, MOST_PICKS = 1_000_000_000, 999
LONGEST = dict.fromkeys(("method", "isolate", "strain", "storage", "sequence"), 400) | {"reason": 4000, "remarks": 3000}
"""Characters that an entry holds."""


class RowHeld(Exception):
    """A row that is not taken in; the message says why and what resolves it."""


@dataclass(frozen=True)
class ReadIsolate:
    """An isolate as a row names it."""

    name: str
    strain: str | None
    pick: int | None
    sequence: str | None
    storage: str | None


@dataclass(frozen=True)
class ReadRow:
    """One row in our words; nothing in it has been held against the record yet."""

    where: str
    number: int
    """Of the row, as the spreadsheet counts."""
    sample: str
    outcome: Outcome
    organism: str
    method: str
    word: str
    """The laboratory's own word for the outcome."""
    started: datetime | date | None = None
    colonies: int | None = None
    plated_ppm: int | None = None
    isolate: ReadIsolate | None = None
    site: str = ""
    reason: str = ""
    remarks: str = ""
    notes: tuple[str, ...] = ()

    @property
    def about(self) -> tuple[str, str, str]:
        """What the row is about: sample, organism, method."""
        return self.sample, self.organism, self.method


@dataclass(frozen=True)
class HeldRow:
    """A row that was not taken in: where it stands, what it says, and why not."""

    where: str
    number: int
    sample: str
    says: str
    reason: str

    def __str__(self) -> str:
        return f"{self.where}, sample {self.sample}, '{self.says}': {self.reason}"


def held(row: Row, reason: str) -> HeldRow:
    """The row as it is held apart."""
    return HeldRow(row.where, row.number, row.text("sample"), row.text("outcome"), reason)


def read_row(row: Row, facts: ReportFacts, words: ResultWords) -> ReadRow:
    """The row in our words. Raises RowHeld with the reason for whatever cannot be told for sure."""
    _must_fit_record(row)
    sample, outcome = _sample(row), _outcome(row, facts, words)
    colonies, plated, notes = _counts(row, outcome)
    isolate = _isolate(row)
    if isolate and outcome == "not_detected":
        raise RowHeld(f"isolate {isolate.name} of a sample that is 'not detected'; ask the laboratory which is right")
    return ReadRow(
        where=row.where,
        number=row.number,
        sample=sample,
        outcome=outcome,
        organism=_organism(row, facts, words),
        method=row.text("method") or facts.method or "not stated",
        word=row.text("outcome"),
        started=_started(row, facts, words),
        colonies=colonies,
        plated_ppm=plated,
        isolate=isolate,
        site=row.text("site"),
        reason=row.text("reason"),
        remarks=row.text("remarks"),
        notes=tuple(notes),
    )


def _must_fit_record(row: Row) -> None:
    for field, most in LONGEST.items():
        if len(row.text(field)) > most:
            raise RowHeld(f"{field} has more than {most} characters; shorten it in a copy of the table")


def _sample(row: Row) -> str:
    try:
        return read_number(row.text("sample"))
    except SwabwrightError as error:
        raise RowHeld(f"unknown number: {error}; only an amended report of the laboratory resolves it") from error


def _outcome(row: Row, facts: ReportFacts, words: ResultWords) -> Outcome:
    word = row.text("outcome")
    status = row.text("status")
    if status and words.status(status) != facts.status:
        raise RowHeld(f"status '{status}' in a report that is {facts.status}; a report has one status")
    if not word:
        raise RowHeld("no result is written in this row")
    outcome = words.outcome(word, facts.status)
    if outcome is None:
        raise RowHeld(
            f"unknown word '{word}': ask the laboratory what it means, and write it into the mapping file, [words]"
        )
    if outcome == "pending":
        raise RowHeld(f"'{word}': the laboratory has no result yet")
    return outcome


def _organism(row: Row, facts: ReportFacts, words: ResultWords) -> str:
    word = row.text("organism")
    if not word:
        return facts.organism
    organism = words.organism(word)
    if organism is None:
        raise RowHeld(f"unknown organism '{word}': write what it is into the mapping file, [organisms]")
    return words.name_of(organism)


def _started(row: Row, facts: ReportFacts, words: ResultWords) -> datetime | date | None:
    text = row.text("started")
    if not text:
        return None
    when = read_time(text, facts.zone, words)
    if when is None:
        raise RowHeld(f"start of analysis '{text}' cannot be read for sure; write it as 2026-03-06 07:30")
    return when


def _counts(row: Row, outcome: Outcome) -> tuple[int | None, int | None, list[str]]:
    """Colonies and millionths plated; a count without its share is told and not used."""
    colonies, share = _number(row, "colonies"), _number(row, "plated")
    if colonies is None:
        return None, None, []
    if not 0 <= colonies <= MOST_COLONIES or colonies % 1:
        raise RowHeld(f"'{row.text('colonies')}' is no whole number of colonies")
    if colonies > 0 and outcome == "not_detected":
        raise RowHeld(f"{colonies:.0f} colonies beside '{row.text('outcome')}'; ask the laboratory which is right")
    if share is None:
        return None, None, [f"{row.where}: the count is not used, as the share plated is not stated"]
    if not 0 < share <= 1:
        raise RowHeld(f"share plated '{row.text('plated')}' is not between 0 and 1")
    return int(colonies), max(1, round(share * MILLION)), []


def _number(row: Row, field: str) -> float | None:
    cell = row.cells.get(field)
    text = cell_text(cell).replace(",", ".")
    if not text:
        return None
    try:
        return float(text.removesuffix("%")) / (100 if text.endswith("%") else 1)
    except ValueError:
        raise RowHeld(f"'{text}' is no number ({field})") from None


def _isolate(row: Row) -> ReadIsolate | None:
    name, strain = row.text("isolate"), row.text("strain")
    if not (name or strain):
        return None
    if not name:
        raise RowHeld(f"strain '{strain}' without the isolate it was told of; an isolate needs its number")
    pick = _number(row, "pick")
    if pick is not None and (not 1 <= pick <= MOST_PICKS or pick % 1):
        raise RowHeld(f"pick '{row.text('pick')}' is no whole number from 1 to {MOST_PICKS}")
    sequence, storage = row.text("sequence") or None, row.text("storage") or None
    return ReadIsolate(name, strain or None, int(pick) if pick else None, sequence, storage)


def same_words(first: str, second: str) -> bool:
    """Whether two names are the same but for case and spaces."""
    return plain(first) == plain(second)


def each_row(rows: tuple[Row, ...], facts: ReportFacts, words: ResultWords) -> Iterator[ReadRow | HeldRow]:
    """Every row in our words, or held apart with the reason."""
    for row in rows:
        try:
            yield read_row(row, facts, words)
        except RowHeld as reason:
            yield held(row, str(reason))
