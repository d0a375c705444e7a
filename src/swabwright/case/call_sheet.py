"""The call sheet: what is told by voice at once when a result touches food, before anything is confirmed."""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime

from swabwright.plant.model import Part, Text


class CalledResult(Part):
    """One result that the call is about."""

    sample: Text
    outcome: Literal["presumptive", "detected"]
    organism: Text
    method: Text
    site: str | None
    site_name: str
    """The plant's own name."""
    zone: int | None
    line: str | None
    why: Text
    """It touches food, stands beside what does, or is product."""
    taken_at: AwareDatetime


class HoldAnswer(Part):
    """What the record says of product on hold."""

    line: str | None
    words: str
    """As long as it was entered: a call never waits for a shorter sentence."""
    at: AwareDatetime


class Lot(Part):
    """A lot of a line that the plant document names."""

    line: Text
    code: Text
    made_on: date


class ToRing(Part):
    """Somebody to ring; what is None stands in no document of the case and is filled in by hand."""

    who: Text
    name: str | None = None
    number: str | None = None
    out_of_hours: str | None = None


class CallSheet(Part):
    """Who is rung, what may be said, what is known of product, as of a moment."""

    format: Literal["swabwright/call-sheet"]
    version: Literal[1]
    as_of: AwareDatetime
    agency: Text
    reference: Text
    plant: Text
    laboratory: Text
    accession: Text
    status: Literal["preliminary", "final", "amended"]
    authorised_by: Text
    report: Text
    """SHA-256 of the signed report."""
    results: tuple[CalledResult, ...]
    to_ring: tuple[ToRing, ...]
    hold: tuple[HoldAnswer, ...]
    not_answered: tuple[Text, ...]
    """Lines of which nobody has answered in the record whether product is held."""
    lots: tuple[Lot, ...]
    may_be_said: tuple[str, ...]
    not_said: tuple[str, ...]
