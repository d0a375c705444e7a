"""An entry: what a device stated, and its link in the chain of the investigation."""

from collections.abc import Mapping
from typing import Annotated, Literal, TypeAlias, get_args

from pydantic import Field

from swabwright.plant.model import Identifier, Part, Text
from swabwright.record import authority, casework, floor, laboratory, sampling, transport
from swabwright.record.values import LARGEST, Body, Digest, EntryId, Moment

AnyBody: TypeAlias = Annotated[
    sampling.Collected
    | sampling.NotTaken
    | sampling.AddedByJudgement
    | sampling.Photograph
    | sampling.Marks
    | sampling.Counted
    | floor.StopSeen
    | floor.HoldAsked
    | floor.HoldAnswered
    | floor.LineMoment
    | floor.Break
    | authority.CredentialsShown
    | authority.Notice
    | authority.Consent
    | authority.Refusal
    | authority.Receipt
    | authority.Companion
    | authority.Exhibit
    | authority.CallMade
    | transport.ContainerPacked
    | transport.SealSet
    | transport.SealOpened
    | transport.HandOver
    | transport.Waybill
    | transport.LoggerData
    | transport.LaboratoryReceipt
    | laboratory.ReportReceived
    | laboratory.Result
    | laboratory.AmendedResult
    | laboratory.Isolate
    | laboratory.IsolateReleased
    | laboratory.IsolateDiscarded
    | casework.ActionAsked
    | casework.ActionPromised
    | casework.ActionSaidDone
    | casework.ActionSeenDone
    | casework.PlanAccepted
    | casework.Decision
    | casework.CopiedFromPaper
    | casework.Superseded,
    Field(discriminator="kind"),
]

BODIES: Mapping[str, type[Body]] = {
    kind: body for body in get_args(get_args(AnyBody)[0]) for kind in get_args(body.model_fields["kind"].annotation)
}
"""What an entry of each kind says."""

KINDS = tuple(BODIES)
"""Every kind of entry, in the order of the work."""

Position = Annotated[int, Field(ge=1, le=LARGEST)]


class Statement(Part):
    """What one phone or computer stated, linked to its own statement before; never altered on the way."""

    id: EntryId
    device: Identifier
    """The phone or computer."""
    sequence: Position
    """Counts the device's own statements, from 1, without a gap."""
    device_previous: Digest
    at: Moment
    by: Text
    """Who made the entry."""
    body: AnyBody


class Entry(Part):
    """One line of the record: a statement at its place in the chain of the investigation."""

    format: Literal["swabwright/entry"]
    version: Literal[1]
    number: Position
    previous: Digest
    statement: Statement
    hash: Digest
    """SHA-256 of the canonical bytes of all other fields."""
