"""Bodies of the papers of authority: credentials, notice, consent, refusal, receipt, companion, exhibit."""

from typing import Annotated, Literal

from pydantic import Field

from swabwright.plant.model import Identifier, SiteCode, Text
from swabwright.record.values import Body, FileRef, Moment, SampleNumber, Words


class CredentialsShown(Body):
    """Who showed credentials to whom."""

    kind: Literal["credentials_shown"]
    shown_by: Text
    shown_to: Text


class Notice(Body):
    """Notice of the inspection was given."""

    kind: Literal["notice"]
    given_to: Text
    legal_basis: Text
    right_to_object_told: bool | None = None
    """Whether the plant was told that it may object, and how."""
    contact: Text | None = None
    """Whom the plant may turn to."""
    file: FileRef | None = None


class Consent(Body):
    """Consent was given: to entry, to a site, to photographs or to samples."""

    kind: Literal["consent"]
    to: Literal["entry", "site", "photographs", "samples"]
    given_by: Text
    site: SiteCode | None = None
    remarks: Words | None = None


class Refusal(Body):
    """Something was refused: entry, a site, photographs, samples or holding product; in whose words."""

    kind: Literal["refusal"]
    of: Literal["entry", "site", "photographs", "samples", "hold"]
    refused_by: Text
    site: SiteCode | None = None
    line: Identifier | None = None
    """The line whose product it is about; without line and site it is about every line."""
    words: Words


class Receipt(Body):
    """A receipt for samples was left with the plant."""

    kind: Literal["receipt"]
    samples: Annotated[tuple[SampleNumber, ...], Field(min_length=1)]
    given_to: Text
    reply_by: Moment | None = None
    right_to_object_told: bool | None = None
    """Whether the plant was told that it may object, and how."""
    contact: Text | None = None
    """Whom the plant may turn to."""
    file: FileRef | None = None


class Companion(Body):
    """The plant's own sample beside one of ours: whose, which side, before or after ours."""

    kind: Literal["companion"]
    sample: SampleNumber
    taken_by: Text
    beside: Words
    order: Literal["before", "after"]


class Exhibit(Body):
    """A numbered exhibit: an observation, an interview, a copied plant record."""

    kind: Literal["exhibit"]
    exhibit: Text
    what: Literal["observation", "interview", "plant_record", "other"]
    words: Words
    file: FileRef | None = None


class CallMade(Body):
    """A call after a screening result: who was rung, what was said, what was answered."""

    kind: Literal["call_made"]
    rung: Text
    said: Words
    answer: Words | None = None
    sample: SampleNumber | None = None
