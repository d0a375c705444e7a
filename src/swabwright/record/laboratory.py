"""Bodies of the laboratory: its signed report, results, amended results, isolates."""

from typing import Annotated, Literal

from pydantic import Field

from swabwright.plant.model import Text
from swabwright.record.values import Body, Count, Digest, EntryId, FileRef, Isolates, Moment, SampleNumber, Words

Outcome = Literal["not_detected", "presumptive", "detected", "no_valid_result"]


class ReportReceived(Body):
    """A signed report of the laboratory; the file is the result, everything else is a copy of it."""

    kind: Literal["report_received"]
    file: FileRef
    laboratory: Text
    accession: Text
    status: Literal["preliminary", "final", "amended"]
    authorised_by: Text
    reported_at: Moment | None = None
    table: FileRef | None = None
    """The laboratory's table that was read beside the report."""
    held_apart: FileRef | None = None
    """Rows of the table that were not taken in, each with the reason."""


class Result(Body):
    """What a report says of one sample."""

    kind: Literal["result"]
    sample: SampleNumber
    outcome: Outcome
    organism: Text
    method: Text
    report: Digest
    """SHA-256 of the report's file."""
    analysis_started_at: Moment | None = None
    colonies: Count | None = None
    """Colonies on the plates, where the laboratory counts."""
    plated_ppm: Annotated[int, Field(ge=1, le=1_000_000)] | None = None
    """Millionths of the sample that were plated."""
    remarks: Words | None = None


class AmendedResult(Body):
    """What an amended report says instead; the first result stays beside it."""

    kind: Literal["amended_result"]
    sample: SampleNumber
    amends: EntryId
    outcome: Outcome
    organism: Text
    method: Text
    report: Digest
    reason: Words
    analysis_started_at: Moment | None = None
    colonies: Count | None = None
    plated_ppm: Annotated[int, Field(ge=1, le=1_000_000)] | None = None


class Isolate(Body):
    """An isolate of a sample: pick, holder, sequence identifier, storage."""

    kind: Literal["isolate"]
    isolate: Text
    sample: SampleNumber
    pick: Annotated[int, Field(ge=1, le=999)]
    organism: Text
    strain: Text | None = None
    """Type or cluster in the laboratory's own words."""
    held_by: Text
    """Who holds it when it is entered; later hands are hand-overs."""
    sequence_identifier: Text | None = None
    shipping_class: Text | None = None
    storage: Text
    release: Words | None = None
    """The written release, where it was discarded or given on."""


class IsolateReleased(Body):
    """Isolates may be discarded: who released them in writing, in which words."""

    kind: Literal["isolate_released"]
    isolates: Isolates
    released_by: Text
    words: Words
    file: FileRef | None = None
    """The writing itself."""


class IsolateDiscarded(Body):
    """Isolates were discarded by who held them, after their written release."""

    kind: Literal["isolate_discarded"]
    isolates: Isolates
    discarded_by: Text
    remarks: Words | None = None
