"""The mapping file: what a person says about a plant's sheets and drawing, so that nothing rests on a guess."""

import tomllib
from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from swabwright.errors import DocumentRefused, Fault, SwabwrightError
from swabwright.plant.field_faults import field_fault
from swabwright.plant.model import Point, SiteKey, Text
from swabwright.tables.guesses import Corrections

Barrier = Literal["none", "boots", "full_change"]
Unit = Literal["mm", "cm", "m", "inch", "feet"]


class MappingPart(BaseModel):
    """A part of a mapping file: an unknown field is refused."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class PlantMapping(MappingPart):
    """What stands in no sheet: the plant's name, time zone and clean base."""

    name: Text | None = None
    timezone: Text | None = None
    base: Point | None = None


class DrawingMapping(MappingPart):
    """The drawing's unit, its layers by what is drawn on them, and layers that are left out."""

    unit: Unit | None = None
    layers: dict[str, tuple[str, ...]] = Field(default_factory=dict)
    ignore: tuple[str, ...] = ()


class SheetMapping(MappingPart):
    """One sheet: its name, where its header stands, and its columns by field."""

    sheet: str | None = None
    header_row: int | None = Field(default=None, ge=1)
    header_rows: int = Field(default=1, ge=1, le=2)
    columns: dict[str, str] = Field(default_factory=dict)
    ignore: tuple[str, ...] = ()

    def corrections(self) -> Corrections:
        """The same, as tables are told it."""
        return Corrections(self.header_row, self.header_rows, self.columns, self.ignore)


class ImportMapping(MappingPart):
    """A whole mapping file; everything in it is optional."""

    plant: PlantMapping = PlantMapping()
    drawing: DrawingMapping = DrawingMapping()
    sheets: dict[str, SheetMapping] = Field(default_factory=dict)
    kinds: dict[str, str] = Field(default_factory=dict)
    """A plant's own words for a kind of site, to the site type meant, or to "leave out"."""
    rooms: dict[str, str] = Field(default_factory=dict)
    """A room as a sheet writes it, to the name that stands in the drawing."""
    doors: dict[str, Barrier] = Field(default_factory=dict)
    """What must be changed at a door, by the number written at it or by its id (`door-3`)."""
    drains: dict[str, Literal["along", "against", "unknown"]] = Field(default_factory=dict)
    """Which way the water of a drain runs along its drawn path."""
    keys: dict[str, SiteKey] = Field(default_factory=dict)
    """Permanent keys to keep, by site code."""
    leave_out: tuple[str, ...] = ()
    """Codes of sites that are not taken over."""


def read_mapping(path: Path) -> ImportMapping:
    """The mapping in a TOML file; every fault is refused with its path."""
    if not path.is_file():
        raise SwabwrightError(f"{path.name}: there is no such mapping file")
    try:
        return ImportMapping.model_validate(tomllib.loads(path.read_text(encoding="utf-8-sig")))
    except tomllib.TOMLDecodeError as error:
        raise DocumentRefused(path.name, [Fault("", f"not TOML: {error}; mend the text at this place")]) from None
    except ValidationError as error:
        faults = [field_fault(ImportMapping, each) for each in error.errors()]
        raise DocumentRefused(path.name, faults) from None
