"""A mapping file that says what was guessed, for a person to correct."""

from typing import Any

import tomli_w

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.mapping import DrawingMapping, ImportMapping, SheetMapping
from swabwright.tables.table import Table


def draft_mapping(context: Context) -> ImportMapping:
    """What a person said, and beside it every guess of this import, as one mapping."""
    said = context.mapping
    sheets = {role: _sheet(table) for role, table in context.tables.items()}
    drawing = DrawingMapping(unit=context.unit, layers=dict(context.layers.by_role), ignore=said.drawing.ignore)
    # A question mark makes the entry no site type, so that nobody imports with it unread.
    kinds = {**{each.text: f"? {each.nearest}" for each in context.notes.unmatched}, **said.kinds}
    return said.model_copy(update={"drawing": drawing, "sheets": {**said.sheets, **sheets}, "kinds": kinds})


def mapping_text(mapping: ImportMapping) -> str:
    """The mapping as TOML, parts that say nothing left out."""
    return HEADING + tomli_w.dumps(_without_empty(mapping.model_dump(mode="json")))


HEADING = """\
# How this plant's files are read. Correct what is wrong, then import again with --mapping.
# An entry under [kinds] that begins with '?' is a question: write the site type meant, or "leave out".

"""


def _sheet(table: Table) -> SheetMapping:
    columns = {guess.field: f"column {guess.letter}" for guess in table.guesses}
    return SheetMapping(sheet=table.sheet, header_row=table.header_row, header_rows=table.header_rows, columns=columns)


def _without_empty(value: Any) -> Any:
    if not isinstance(value, dict):
        return value
    kept = {key: _without_empty(each) for key, each in value.items()}
    return {key: each for key, each in kept.items() if each not in (None, {}, [])}
