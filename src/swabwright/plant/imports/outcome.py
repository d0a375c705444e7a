"""What an import takes and what it gives."""

from dataclasses import dataclass, field
from pathlib import Path

from swabwright.errors import Fault
from swabwright.plant.document import Plant
from swabwright.plant.imports.mapping import ImportMapping
from swabwright.plant.imports.notes import Unmatched
from swabwright.tables.table import SetAside


@dataclass(frozen=True)
class Sources:
    """A plant's own files: the site list, the drawing, further sheets, and what a person says about them."""

    sites: Path
    drawing: Path
    further: tuple[Path, ...] = ()
    mapping: ImportMapping = field(default_factory=ImportMapping)
    earlier: Plant | None = None
    """An earlier import of the same plant, whose sites keep their permanent keys by code."""

    @property
    def files(self) -> tuple[Path, ...]:
        """Every spreadsheet, the site list first."""
        return (self.sites, *self.further)


@dataclass(frozen=True)
class ImportOutcome:
    """The plant, or None with the faults and unmatched words that stopped it; and all that was guessed."""

    plant: Plant | None
    guesses: tuple[str, ...]
    unmatched: tuple[Unmatched, ...]
    set_aside: tuple[SetAside, ...]
    assumptions: dict[str, str]
    faults: tuple[Fault, ...]
    draft: ImportMapping = field(default_factory=ImportMapping)
    """A mapping that says what was guessed, for a person to correct."""
