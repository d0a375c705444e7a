"""The import of a small plant, run whole from files in a temporary folder."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from builders.drawings import SITES, Sheet, two_rooms, write_xlsx

from swabwright.plant.document import Plant
from swabwright.plant.imports.build import import_plant
from swabwright.plant.imports.mapping import ImportMapping
from swabwright.plant.imports.outcome import ImportOutcome, Sources
from swabwright.plant.registry import load_catalogue

Rows = Sequence[Sequence[Any]]


def imported(
    folder: Path, drawn: Sheet | None = None, book: Mapping[str, Rows] | None = None, **mapping: Any
) -> ImportOutcome:
    """The outcome for a drawing (two rooms by default) and sheets (three sites by default), under a mapping."""
    path = (drawn or two_rooms()).save(folder / "floor.dxf")
    sites = write_xlsx(folder / "sites.xlsx", {"Sites": SITES, **(book or {})})
    return import_plant(Sources(sites, path, mapping=ImportMapping.model_validate(mapping)), load_catalogue())


def plant_of(outcome: ImportOutcome) -> Plant:
    """The plant of an outcome that must have one."""
    assert outcome.plant is not None, [*map(str, outcome.faults), *map(str, outcome.unmatched)]
    return outcome.plant


def said(outcome: ImportOutcome) -> str:
    """Every fault and unmatched word of an outcome, as one text."""
    return "\n".join([*map(str, outcome.faults), *map(str, outcome.unmatched)])


def aside(outcome: ImportOutcome) -> str:
    """Everything put aside, as one text."""
    return "\n".join(map(str, outcome.set_aside))
