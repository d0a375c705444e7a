"""The truth document of an invented case: where it lives, and what a sample of every site would have shown."""

from typing import Literal

from pydantic import Field

from swabwright.plant.model import Part, SiteCode, Text


class Shown(Part):
    """What one site would have shown on the first visit, sampled as it is and opened up."""

    site: SiteCode
    as_is: bool
    opened: bool


class Truth(Part):
    """What nobody in a real plant knows; only an invented case has it, to hold the engine's answers against."""

    format: Literal["swabwright/truth"]
    version: Literal[1]
    made_by: Text
    """What made the truth, so that a reader knows how far it is from the engine's own model."""
    level: int = Field(ge=0, le=9)
    """How far the truth was bent away from what a planner would believe; 0 is least."""
    niches: tuple[SiteCode, ...] = Field(min_length=1)
    shows: tuple[Shown, ...]
    """Every site of the plant, once."""
