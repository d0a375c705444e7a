"""Bodies of custody: packing, seals, hand-overs, waybills, loggers, receipt at the laboratory."""

from typing import Literal

from pydantic import model_validator

from swabwright.plant.model import Part, Text
from swabwright.record.read_as import ReadAs
from swabwright.record.values import Body, Count, FileRef, Isolates, SampleNumber, TenthsOfDegree, Words


class ContainerPacked(Body):
    """Samples or isolates lie in a shipping container, in the hand of who packed it."""

    kind: Literal["container_packed"]
    container: Text
    samples: tuple[SampleNumber, ...] = ()
    isolates: Isolates | None = None
    packed_by: Text | None = None
    """Who packed it, if not who made the entry."""
    logger: Text | None = None

    @model_validator(mode="after")
    def _something(self) -> "ContainerPacked":
        if not (self.samples or self.isolates):
            raise ValueError("names no sample and no isolate; write what is packed")
        return self


class SealSet(Body):
    """A seal closes a container."""

    kind: Literal["seal_set"]
    container: Text
    seal: Text
    witness: Text | None = None
    photographs: tuple[FileRef, ...] = ()


class SealOpened(Body):
    """Incident: a seal was opened or found changed on the way: who, why, witness, photographs, count."""

    kind: Literal["seal_opened"]
    container: Text
    seal: Text
    opened_by: Text
    why: Words
    witness: Text | None = None
    photographs: tuple[FileRef, ...] = ()
    samples_counted: Count


class HandOver(Body):
    """Samples, isolates or whole containers go from one hand to another."""

    kind: Literal["hand_over"]
    giver: Text
    taker: Text
    samples: tuple[SampleNumber, ...] = ()
    isolates: Isolates | None = None
    containers: tuple[Text, ...] = ()
    purpose: Text
    condition: Words | None = None
    seals_intact: bool | None = None

    @model_validator(mode="after")
    def _something_to_another(self) -> "HandOver":
        if not (self.samples or self.isolates or self.containers):
            raise ValueError("names no sample and no container; write what is handed over")
        if self.giver == self.taker:
            raise ValueError(f"{self.giver} cannot hand over to themselves; name who takes it")
        return self


class Waybill(Body):
    """A container goes to a carrier; its number with an intact seal stands for the carrier's signature."""

    kind: Literal["waybill"]
    container: Text
    carrier: Text
    waybill: Text
    seal: Text
    given_by: Text


class LoggerData(Body):
    """A temperature logger's file, as it came out of the logger, and how it was read."""

    kind: Literal["logger_data"]
    logger: Text
    container: Text
    file: FileRef
    read_as: ReadAs | None = None


class SealSeen(Part):
    """A seal as it was found at the laboratory."""

    container: Text
    seal: Text
    intact: bool


class LaboratoryReceipt(Body):
    """The laboratory has the samples or isolates: condition, probe temperature, seals as found."""

    kind: Literal["laboratory_receipt"]
    laboratory: Text
    received_by: Text
    samples: tuple[SampleNumber, ...] = ()
    isolates: Isolates | None = None
    seals: tuple[SealSeen, ...] = ()
    temperature_tenths_c: TenthsOfDegree | None = None
    probe: Text | None = None
    condition: Words
    accession: Text | None = None

    @model_validator(mode="after")
    def _something(self) -> "LaboratoryReceipt":
        if not (self.samples or self.isolates):
            raise ValueError("names no sample and no isolate; write what was received")
        return self
