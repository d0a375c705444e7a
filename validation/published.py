"""The published record as data: shares of samples, contrasts within a study, investigations, reasons of misfits."""

import tomllib
from pathlib import Path
from typing import Annotated, Any, Literal, Self, TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from swabwright.errors import SwabwrightError

DATA = Path(__file__).parent / "data"
Part = Annotated[float, Field(ge=0, le=1)]
Phase = Literal["before_start", "rulebook_hour"]


class Row(BaseModel):
    """A row of a data file: immutable, no unknown field."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)


class Told(Row):
    """What every published row says of itself, and whether anybody confirmed it in the full paper."""

    id: Annotated[str, Field(pattern=r"^[a-z0-9_]+$")]
    what: Annotated[str, Field(min_length=1)]
    organism: str
    source: Annotated[str, Field(min_length=5)]
    confirmed: bool


class SiteKinds(Row):
    """Which of our sites stand for a published category: groups of site types, site types, or hygiene zones."""

    groups: tuple[str, ...] = ()
    types: tuple[str, ...] = ()
    zones: tuple[int, ...] = ()

    @property
    def every(self) -> bool:
        """Whether all sites are meant."""
        return "all" in self.groups

    @property
    def named(self) -> str:
        """The category in words."""
        parts = [f"zone {zone}" for zone in self.zones] + [*self.groups, *self.types]
        return "every site" if self.every else ", ".join(part.replace("_", " ") for part in parts)


class Share(Told):
    """A published share of samples, or of plants, in which the organism was detected."""

    share: Part
    detected: int | None = None
    samples: int | None = None
    """Samples behind the share; plants, where `counts` is about plants."""
    samples_assumed: bool = False
    conditions: str = ""
    no_counterpart: str = ""
    """Why nothing in the model stands for it; empty if something does."""
    groups: tuple[str, ...] = ()
    types: tuple[str, ...] = ()
    zones: tuple[int, ...] = ()
    phase: Phase = "rulebook_hour"
    plants: int = Field(default=1, ge=1)
    plants_assumed: bool = False
    chosen: Literal["mean", "highest", "lowest"] = "mean"
    """Whether the row is about all plants of the study, or the one with the most or fewest detections."""
    counts: Literal["samples", "plants_with_any", "plants_below"] = "samples"
    samples_a_plant: int = Field(default=1, ge=1)
    below: Part = 0.0
    presence: tuple[Part, Part] = (1.0, 1.0)
    presence_source: str = ""
    ceiling: bool = False
    """The figure counts more than what is modelled, so a prediction may lie anywhere below it."""

    @property
    def kinds(self) -> SiteKinds:
        """The sites that stand for it."""
        return SiteKinds(groups=self.groups, types=self.types, zones=self.zones)

    @model_validator(mode="after")
    def _mapped_or_explained(self) -> Self:
        mapped = bool(self.groups or self.types or self.zones)
        if mapped == bool(self.no_counterpart):
            raise ValueError("name groups, types or zones, or say why nothing stands for it; not both")
        if mapped and not (self.presence_source and self.samples):
            raise ValueError("a row that is compared needs samples, and who says how many plants it lives in")
        return self


class Contrast(Row):
    """Two shares of one study, the first of them higher; what varies between plants falls out of their ratio."""

    id: str
    upper: str
    lower: str


class Round(Told):
    """One published investigation, anonymised."""

    told: Annotated[str, Field(min_length=5)]
    samples: int | None = None
    samples_assumed: bool = False
    detected: int | None = None
    detected_on_contact: int | None = None
    compares: tuple[Literal["count", "contact", "inside"], ...] = ()
    not_compared: str = ""
    niche_groups: tuple[str, ...] = ()
    niche_types: tuple[str, ...] = ()

    @property
    def niche(self) -> SiteKinds:
        """Where it was found to live; every site where that is not known."""
        known = bool(self.niche_groups or self.niche_types)
        return SiteKinds(groups=self.niche_groups if known else ("all",), types=self.niche_types)

    @model_validator(mode="after")
    def _compared_or_explained(self) -> Self:
        needs = {"count": (self.samples, self.detected), "contact": (self.detected, self.detected_on_contact)}
        if bool(self.compares) == bool(self.not_compared):
            raise ValueError("say what is compared, or why nothing is; not both")
        if any(None in needs.get(kind, ()) for kind in self.compares):
            raise ValueError("a comparison of counts needs both counts")
        return self


class Reason(Row):
    """Why some rows do not fit, as far as that is known."""

    id: str
    why: Annotated[str, Field(min_length=20)]
    rows: tuple[str, ...] = Field(min_length=1)


class Change(Row):
    """Figures set differently, named with * for any part: multiplied, raised by so much, or set."""

    figures: str
    times: float = 1.0
    plus: float = 0.0
    to: float | None = None


class Variation(Row):
    """The same prediction under other assumptions or in a larger or smaller plant."""

    id: str
    what: str
    changes: tuple[Change, ...] = ()
    sites: int | None = None


class Settings(Row):
    """How many plants, sites, histories and simulated studies a comparison rests on."""

    plants: int = Field(ge=1)
    sites: int = Field(ge=20)
    lines: int = Field(ge=1)
    histories: int = Field(ge=20)
    hypotheses: int = Field(ge=100)
    draws_a_plant: int = Field(ge=10)
    plants_varied: int = Field(ge=1)
    studies: int = Field(ge=100)
    seed: int


class Published(Row):
    """The whole published record that the model is compared with."""

    shares: tuple[Share, ...]
    contrasts: tuple[Contrast, ...]
    rounds: tuple[Round, ...]
    reasons: tuple[Reason, ...]
    variations: tuple[Variation, ...]

    def share(self, name: str) -> Share:
        """The share of that id."""
        return next(share for share in self.shares if share.id == name)

    def why(self, name: str) -> tuple[str, ...]:
        """The reasons given for the row of that id, by their ids."""
        return tuple(reason.id for reason in self.reasons if name in reason.rows)

    @model_validator(mode="after")
    def _every_name_leads_somewhere(self) -> Self:
        ids = [
            *(share.id for share in self.shares),
            *(contrast.id for contrast in self.contrasts),
            *(told.id for told in self.rounds),
        ]
        rows = set(ids)
        if len(rows) < len(ids):
            raise ValueError("two rows have the same id")
        # a second comparison of one investigation is called by its kind too: fish_2016b.contact
        named = {row.split(".")[0] for reason in self.reasons for row in reason.rows}
        named |= {row for contrast in self.contrasts for row in (contrast.upper, contrast.lower)}
        if unknown := sorted(named - rows):
            raise ValueError(f"no row is called {', '.join(unknown)}")
        return self


Table = TypeVar("Table", bound=Row)


def load_published(folder: Path = DATA) -> Published:
    """The record from the data files of a folder; a row that contradicts itself is refused by file and row."""
    names = ("shares", "investigations", "reasons", "variations")
    tables = {key: rows for name in names for key, rows in _parsed(folder, f"{name}.toml").items()}
    return _read(Published, tables, folder)


def load_settings(folder: Path = DATA) -> Settings:
    """How the comparison is run."""
    return _read(Settings, _parsed(folder, "settings.toml"), folder / "settings.toml")


def _parsed(folder: Path, name: str) -> dict[str, Any]:
    return tomllib.loads((folder / name).read_text("utf-8"))


def _read(kind: type[Table], table: dict[str, Any], where: Path) -> Table:
    try:
        return kind.model_validate(table)
    except ValidationError as fault:
        first = fault.errors()[0]
        place = ".".join(str(part) for part in first["loc"])
        raise SwabwrightError(f"{where.name}: {place}: {first['msg']}") from fault
