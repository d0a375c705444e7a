"""Bodies of sampling: what was taken, what was not, what was seen."""

from typing import Annotated, Literal

from pydantic import Field, model_validator

from swabwright.plant.model import SiteCode, Text
from swabwright.record.values import Body, Count, Day, FileRef, Moment, SampleNumber, TenthsOfDegree, Words

Zone = Annotated[int, Field(ge=1, le=4)]
SampleKind = Literal["surface", "raw_material", "water", "residue", "product", "part", "blank", "duplicate"]
BlankKind = Literal["field", "trip", "device_lot", "glove"]
"""Opened at the site, carried along unopened, an unused device of the lot, or the gloves themselves."""


class Collected(Body):
    """A sample is in its container, in the hand of who took it."""

    kind: Literal["collected"]
    sample: SampleNumber
    sample_kind: SampleKind
    blank_kind: BlankKind | None = None
    """Which kind of blank, where it is one."""
    site: SiteCode | None = None
    zone: Zone | None = None
    device: Text
    device_lot: Text | None = None
    device_expires_on: Day | None = None
    """The last day on which the device may be used, as its pack says."""
    medium: Text | None = None
    area_mm2: Count | None = None
    mass_mg: Count | None = None
    surface_state: tuple[Text, ...] = ()
    surface_temperature_tenths_c: TenthsOfDegree | None = None
    opened_up: bool = False
    """The machine was opened by plant staff."""
    line_running: bool | None = None
    without_stop: Words | None = None
    """Why it was taken although no stop was seen that the site asks for; it stays told as a contradiction."""
    product_lot: Text | None = None
    unopened_pack: bool | None = None
    """Whether it is a pack as the plant closed it."""
    reserve_portion: Words | None = None
    """Where the part lies that is kept back, and who holds it."""
    residue: Text | None = None
    witness: Text | None = None
    taken_by: Text | None = None
    """Who took it, if not who made the entry."""
    taken_at: Moment | None = None
    """When it was taken, if not when the entry was made."""
    of_sample: SampleNumber | None = None
    """The sample whose duplicate or blank this is."""
    remarks: Words | None = None

    @model_validator(mode="after")
    def _only_a_blank_has_a_kind_of_blank(self) -> "Collected":
        if self.blank_kind is not None and self.sample_kind != "blank":
            raise ValueError(f"blank_kind goes with a blank only, and the sample is a {self.sample_kind}; leave it out")
        return self


class NotTaken(Body):
    """A planned sample was not taken, because ..."""

    kind: Literal["not_taken"]
    sample: SampleNumber
    site: SiteCode | None = None
    reason: Words


class AddedByJudgement(Body):
    """A site seen on the day joins the samples; a judgement, no deviation."""

    kind: Literal["added_by_judgement"]
    sample: SampleNumber
    site: SiteCode
    seen: Words


class Photograph(Body):
    """A photograph, wide or close, of a site, a sample, a seal or a sheet."""

    kind: Literal["photograph"]
    file: FileRef
    view: Literal["wide", "close", "seal", "sheet", "other"]
    sample: SampleNumber | None = None
    site: SiteCode | None = None
    container: Text | None = None
    shows: Words


class Marks(Body):
    """What was seen at a site: wet, cracked, dripping, traffic and the like."""

    kind: Literal["marks"]
    site: SiteCode
    marks: Annotated[tuple[Text, ...], Field(min_length=1)]
    remarks: Words | None = None


class Counted(Body):
    """Things counted out before the work or in after it: devices, lids, gloves, labels, blades."""

    kind: Literal["counted"]
    when: Literal["out", "in"]
    thing: Text
    count: Count
