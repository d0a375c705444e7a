"""Hours of a working week, in the plant's own wall-clock time."""

from datetime import time
from typing import Literal

from pydantic import AwareDatetime, Field

from swabwright.plant.model import Part, Text

Weekday = Literal["mon", "tue", "wed", "thu", "fri", "sat", "sun"]


class Period(Part):
    """The same hours on each named day; an end before the start runs past midnight."""

    days: tuple[Weekday, ...] = Field(min_length=1)
    """Days on which the hours begin."""
    starts_at: time
    """The plant's wall clock."""
    ends_at: time
    """Before the start: on the next day."""


class AgreedStop(Part):
    """Minutes during which the plant has agreed that a line stands, on one date."""

    starts_at: AwareDatetime
    ends_at: AwareDatetime
    agreed_by: Text
    """Who at the plant agreed."""
