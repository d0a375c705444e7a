"""The laboratory's table as rows under known columns, with what stands above them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from pathlib import Path

from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.figures import Figures
from swabwright.tables.fields import TableFields
from swabwright.tables.grid import Grid, cell_text
from swabwright.tables.guesses import Corrections
from swabwright.tables.headers import find_header
from swabwright.tables.table import SetAside, Table, read_table
from swabwright.tables.workbook import read_sheets
from swabwright.work.results_mapping import ResultsMapping
from swabwright.work.results_words import ResultWords

NEEDED = ("sample", "outcome")


@dataclass(frozen=True)
class ResultsTable:
    """The rows of a table of results, what its lines above the header say of the report, and what was guessed."""

    table: Table
    head: dict[str, str]
    notes: tuple[str, ...]


def read_results_table(path: Path, mapping: ResultsMapping, words: ResultWords, figures: Figures) -> ResultsTable:
    """The table of results in a file; refused when no sheet has columns for samples and results."""
    fields, said = words.columns(figures), mapping.sheet.corrections()
    sheet = _sheet(read_sheets(path), mapping.sheet.sheet, fields, said)
    table = read_table(sheet, fields, said)
    missing = [field for field in NEEDED if not table.has(field)]
    if missing:
        raise SwabwrightError(
            f"{path.name}: sheet '{sheet.name}' has no column for {' and '.join(missing)}; name it in the mapping "
            "file, [sheets.results] columns"
        )
    head = _head(sheet, table, words)
    written = {row.text("status") for row in table.rows} - {""}
    if len({words.status(word) for word in written}) == 1:
        head.setdefault("status", min(written))
    notes = [f"sheet '{sheet.name}', {guess}" for guess in table.guesses]
    notes += [str(aside) for aside in table.set_aside if not _is_head(aside, words)]
    return ResultsTable(replace(table, set_aside=()), head, tuple(notes))


def _sheet(sheets: Sequence[Grid], name: str | None, fields: TableFields, said: Corrections) -> Grid:
    if name is not None:
        for sheet in sheets:
            if sheet.name.casefold() == name.casefold():
                return sheet
        raise SwabwrightError(f"no sheet '{name}'{did_you_mean(name, [sheet.name for sheet in sheets])}")
    if len(sheets) == 1:
        return sheets[0]
    strength = {sheet.name: header.strength for sheet in sheets if (header := find_header(sheet, fields, said))}
    if not strength:
        raise SwabwrightError(
            "no sheet of the file looks like results; name it in the mapping file, [sheets.results] sheet"
        )
    return max(sheets, key=lambda sheet: strength.get(sheet.name, 0.0))


def _head(sheet: Grid, table: Table, words: ResultWords) -> dict[str, str]:
    """Facts of the report above the header, written as a label with its value in the next cell or after a colon."""
    found: dict[str, str] = {}
    for row in sheet.cells[: table.header_row - 1]:
        texts = [text for cell in row if (text := cell_text(cell))]
        for label, value in _pairs(texts):
            fact = words.head(label)
            if fact is not None and value:
                found.setdefault(fact, value)
    return found


def _pairs(texts: Sequence[str]) -> list[tuple[str, str]]:
    beside = list(pairwise(texts))
    return beside + [(label, value.strip()) for text in texts for label, _, value in (text.partition(":"),)]


def _is_head(aside: SetAside, words: ResultWords) -> bool:
    return any(words.head(label) is not None for label, _ in _pairs(aside.text.split(" | ")))
