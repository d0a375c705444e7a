"""Bodies of the floor: stop and isolation, product on hold, what the line did."""

from typing import Literal

from swabwright.plant.model import Identifier, SiteCode, Text
from swabwright.record.values import Body, Moment, Words


class StopSeen(Body):
    """A line stands, and is isolated where needed: by whom, and who saw it."""

    kind: Literal["stop_seen"]
    line: Identifier
    site: SiteCode | None = None
    stopped_by: Text
    isolated_by: Text | None = None
    """Who locked and tagged out; left out when the site needs no isolation."""
    seen_by: Text


class HoldAsked(Body):
    """The plant was asked whether product is held, since which lot."""

    kind: Literal["hold_asked"]
    line: Identifier
    asked_of: Text


class HoldAnswered(Body):
    """The plant's answer about product at stake."""

    kind: Literal["hold_answered"]
    line: Identifier
    answered_by: Text
    answer: Literal["held", "not_held", "refused_to_answer"]
    since_lot: Text | None = None
    remarks: Words | None = None


class LineMoment(Body):
    """A line stopped or started, something was spilt, or the line was washed down."""

    kind: Literal["line_stopped", "line_started", "spill", "wash_down"]
    line: Identifier
    happened_at: Moment | None = None
    remarks: Words | None = None
