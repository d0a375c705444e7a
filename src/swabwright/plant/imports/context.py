"""What every step of an import works with."""

from collections.abc import Mapping
from dataclasses import dataclass

from swabwright.plant.catalogue import Catalogue
from swabwright.plant.imports.drawing import Drawing
from swabwright.plant.imports.layers import Layers
from swabwright.plant.imports.mapping import ImportMapping, Unit
from swabwright.plant.imports.names import NameMatch, find_name
from swabwright.plant.imports.notes import Notes
from swabwright.plant.imports.vocabulary import Vocabulary
from swabwright.tables.table import Row, Table


@dataclass(frozen=True)
class Context:
    """The drawing, the sheets, what a person said about them, the words to read them by, and the notes made."""

    drawing: Drawing
    unit: Unit
    """The unit the drawing was in; everything in `drawing` is in metres."""
    layers: Layers
    tables: Mapping[str, Table]
    mapping: ImportMapping
    words: Vocabulary
    catalogue: Catalogue
    notes: Notes

    def drawn(self, role: str) -> Drawing:
        """What is drawn of one kind."""
        return self.drawing.on(self.layers.of(role))

    def rows(self, role: str) -> tuple[Row, ...]:
        """The rows of one kind of sheet; none when there is no such sheet."""
        table = self.tables.get(role)
        return table.rows if table else ()

    def find(self, text: str, names: Mapping[str, str], what: str) -> str | None:
        """The id of the thing that a sheet names; a name that is only alike is noted as a guess."""
        wanted = self.mapping.rooms.get(text, text) if what == "room" else text
        match: NameMatch | None = find_name(wanted, names, self.words.number("room.least_score"))
        if match is None:
            return None
        if match.score < 100:
            self.notes.guess(f"{what} '{text}' is taken for '{names[match.id]}' (score {match.score:.0f})")
        return match.id

    def quantity(self, row: Row, field: str, path: str) -> float | None:
        """A quantity of a row in its own unit; None when empty. A doubt is noted, one that is none is a fault."""
        try:
            reading = row.quantity(field)
        except ValueError as error:
            self.notes.fault(row.where, f"{field}: {error}; mend the cell or leave it empty")
            return None
        if reading and reading.doubt:
            self.notes.assume(path, f"{row.where}: {reading.doubt}")
        return reading.value if reading else None
