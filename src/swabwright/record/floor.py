"""Bodies of the floor: stop and isolation, product on hold, what the line did."""

from typing import Literal

from pydantic import model_validator

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


class Break(Body):
    """A line or the team has a break."""

    kind: Literal["break"]
    of: Literal["line", "team"]
    line: Identifier | None = None
    """The line, where it is the line's break."""
    happened_at: Moment | None = None
    """When it began, if not when the entry was made."""
    ends_at: Moment | None = None
    """When it ends, as it was said; the line counts as running from then on."""
    remarks: Words | None = None

    @model_validator(mode="after")
    def _a_line_s_break_names_its_line(self) -> "Break":
        if (self.of == "line") != (self.line is not None):
            raise ValueError("the break of a line names its line, the break of the team names none")
        return self
