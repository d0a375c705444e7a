"""What a person says of one laboratory's tables: columns, words, names, time zone; kept in the case."""

import tomllib
from dataclasses import replace
from pathlib import Path
from typing import Literal

from pydantic import Field, ValidationError

from swabwright.case.writing import write_all
from swabwright.errors import DocumentRefused, Fault, SwabwrightError
from swabwright.plant.field_faults import field_fault
from swabwright.plant.imports.mapping import MappingPart, SheetMapping
from swabwright.plant.imports.names import make_id
from swabwright.plant.model import Text
from swabwright.work.results_words import ResultWords

FOLDER = "laboratories"


class LaboratoryFacts(MappingPart):
    """What stands in no cell because it is always the same at this laboratory."""

    name: Text | None = None
    time_zone: Text | None = None
    organism: Text | None = None
    method: Text | None = None
    storage: Text | None = None
    """Where isolates are kept."""


class ResultsMapping(MappingPart):
    """A whole mapping file of a laboratory; everything in it is optional."""

    laboratory: LaboratoryFacts = LaboratoryFacts()
    sheets: dict[Literal["results"], SheetMapping] = Field(default_factory=dict)
    words: dict[str, Literal["not_detected", "presumptive", "detected", "confirmed", "no_valid_result", "pending"]] = (
        Field(default_factory=dict)
    )
    """The laboratory's own words for an outcome."""
    organisms: dict[str, str] = Field(default_factory=dict)
    """The laboratory's own names of organisms, to their ids."""

    @property
    def sheet(self) -> SheetMapping:
        """What is said of the sheet that holds the results."""
        return self.sheets.get("results", SheetMapping())

    def words_with(self, words: ResultWords) -> ResultWords:
        """The words with those of this laboratory added; an organism that is not known is refused."""
        for organism in self.organisms.values():
            words.name_of(organism)
        return replace(words, outcomes=self.words, organisms=self.organisms)


def read_results_mapping(path: Path) -> ResultsMapping:
    """The mapping in a TOML file; every fault is refused with its path."""
    if not path.is_file():
        raise SwabwrightError(f"{path.name}: there is no such mapping file")
    try:
        return ResultsMapping.model_validate(tomllib.loads(path.read_text(encoding="utf-8-sig")))
    except tomllib.TOMLDecodeError as error:
        raise DocumentRefused(path.name, [Fault("", f"not TOML: {error}; mend the text at this place")]) from None
    except ValidationError as error:
        faults = [field_fault(ResultsMapping, each) for each in error.errors()]
        raise DocumentRefused(path.name, faults) from None


def mapping_file(case: Path, laboratory: str) -> Path:
    """Where a case keeps what was said of a laboratory's tables."""
    return case / FOLDER / f"{make_id(laboratory, (), 'laboratory')}.toml"


def remembered(case: Path, laboratory: str) -> ResultsMapping:
    """What was said of a laboratory at an earlier import into this case; nothing when nobody said anything."""
    path = mapping_file(case, laboratory)
    return read_results_mapping(path) if path.is_file() else ResultsMapping()


def remember(case: Path, laboratory: str, given: Path) -> bool:
    """Keep the mapping file as it was written for the laboratory's next report; False when it is kept already."""
    path, content = mapping_file(case, laboratory), given.read_bytes()
    if path.is_file() and path.read_bytes() == content:
        return False
    write_all(path.parent, {path.name: content})
    return True
