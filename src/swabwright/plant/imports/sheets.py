"""Which sheet of the files holds what, by the mapping, else by its headers and its name."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from rapidfuzz import fuzz

from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.imports.mapping import ImportMapping, SheetMapping
from swabwright.plant.imports.names import plain_name
from swabwright.plant.imports.notes import Notes
from swabwright.plant.imports.vocabulary import Vocabulary
from swabwright.tables.grid import Grid
from swabwright.tables.headers import find_header
from swabwright.tables.table import Table, read_table
from swabwright.tables.workbook import read_sheets

BY_NAME = 2.0
"""A sheet's own name counts as much as this many headers."""
KEYS_NEEDED = 0.7
"""Least likeness, 0 to 1, of a sheet's name that can stand for its key column."""


@dataclass(frozen=True)
class Candidate:
    """A sheet that may hold one kind of table, and how strongly it looks like it."""

    sheet: Grid
    role: str
    strength: float


def find_tables(files: Sequence[Path], mapping: ImportMapping, words: Vocabulary, notes: Notes) -> dict[str, Table]:
    """The tables found, by kind of sheet; sheets that are none of them are put aside."""
    sheets = [sheet for file in files for sheet in read_sheets(file) if sheet.cells]
    chosen = _as_said(sheets, mapping, words)
    # The strongest match is settled first, so that a list of rooms cannot take the sheet of the sites.
    for candidate in sorted(_candidates(sheets, mapping, words), key=lambda each: -each.strength):
        if candidate.role not in chosen and candidate.sheet not in chosen.values():
            chosen[candidate.role] = candidate.sheet
    for sheet in sheets:
        if sheet not in chosen.values():
            notes.put_aside(f"sheet '{sheet.name}'", "", "holds no table that is known; the mapping can say what it is")
    return {role: _table(sheet, role, mapping, (words, notes)) for role, sheet in chosen.items()}


def _as_said(sheets: Sequence[Grid], mapping: ImportMapping, words: Vocabulary) -> dict[str, Grid]:
    chosen: dict[str, Grid] = {}
    for role, said in mapping.sheets.items():
        if role not in words.roles():
            known = did_you_mean(role, words.roles())
            raise SwabwrightError(f"mapping, sheets: no kind of sheet '{role}'{known}")
        if said.sheet is None:
            continue
        match = next((sheet for sheet in sheets if sheet.name.casefold() == said.sheet.casefold()), None)
        if match is None:
            hint = did_you_mean(said.sheet, [sheet.name for sheet in sheets])
            raise SwabwrightError(f"mapping, sheets.{role}: no sheet '{said.sheet}'{hint}")
        chosen[role] = match
    return chosen


def _candidates(sheets: Sequence[Grid], mapping: ImportMapping, words: Vocabulary) -> Iterator[Candidate]:
    for sheet in sheets:
        for role in words.roles():
            said = mapping.sheets.get(role, SheetMapping())
            fields = words.sheet(role)
            header = find_header(sheet, fields, said.corrections())
            likeness = _likeness(sheet.name, words.called(role))
            keys = {guess.field for guess in header.guesses} & set(fields.key_ids()) if header else set()
            if header and ((keys and len(header.guesses) > 1) or likeness >= KEYS_NEEDED):
                yield Candidate(sheet, role, header.strength + BY_NAME * likeness)


def _likeness(name: str, called: Sequence[str]) -> float:
    return max(fuzz.token_sort_ratio(plain_name(name), known) for known in called) / 100


def _table(sheet: Grid, role: str, mapping: ImportMapping, given: tuple[Vocabulary, Notes]) -> Table:
    words, notes = given
    said = mapping.sheets.get(role, SheetMapping())
    table = read_table(sheet, words.sheet(role), said.corrections())
    notes.guess(f"sheet '{sheet.name}' is read as the {role}: {len(table.rows)} rows")
    for guess in table.guesses:
        notes.guess(f"sheet '{sheet.name}', {guess}")
    notes.set_aside += table.set_aside
    return table
