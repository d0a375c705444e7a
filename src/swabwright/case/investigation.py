"""The investigation document: what is suspected, what is known, visits and their limits."""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime, Field

from swabwright.plant.model import Fraction, Identifier, Part, Positive, SiteCode, Text
from swabwright.plant.sites import Mode


class Implicated(Part):
    """A line suspected over a span of days, and who says so."""

    line: str
    first_day: date
    last_day: date
    said_by: Text
    strain: Text | None = None
    """The strain that is suspected, where the laboratory has typed it; None: not told."""


class ProductTest(Part):
    """Tests of the product of one line and day: how much was tested, and what was found."""

    line: str
    made_on: date
    kg_tested: Positive
    increments: int = Field(ge=1)
    result: Literal["not_detected", "detected"]
    method: Text
    said_by: Text
    strain: Text | None = None
    """The strain that was detected, where it was typed."""


class EarlierResult(Part):
    """A result of an earlier sample at a site, at its own date."""

    site: SiteCode
    taken_at: AwareDatetime
    device: Text
    mode: Mode = "as_is"
    result: Literal["not_detected", "detected"]
    said_by: Text
    strain: Text | None = None
    """The strain that was detected, where it was typed."""


class Presence(Part):
    """The stated prior chance, before any sample of this plan, that it lives here; and who set it."""

    lives_here: Fraction
    incoming_only: Fraction | None = None
    set_by: Text


class Must(Part):
    """A site that must be in the plan, and why (complaint, notes, what was seen)."""

    site: SiteCode
    why: Text


class Limits(Part):
    """What bounds one visit: people, time, laboratory, zones, musts, controls, judgement."""

    samples: int = Field(ge=1, le=400)
    """All containers sent, controls and the judgement share included."""
    starts_at: AwareDatetime
    ends_at: AwareDatetime
    teams: Literal[1] = 1
    people_per_team: int = Field(ge=1, le=4)
    laboratory_takes: int = Field(ge=1)
    zone_minimums: dict[Literal["1", "2", "3", "4"], int] = Field(default_factory=dict)
    must: tuple[Must, ...] = ()
    must_not: tuple[Must, ...] = ()
    may_open: bool = True
    """Whether plant staff will open machines for this visit."""
    judgement_share: Fraction | None = None
    blanks: int | None = Field(default=None, ge=0)
    duplicates: int | None = Field(default=None, ge=0)
    """None: the rulebook's default."""


class Visit(Part):
    """One visit: when, by whom, under which limits."""

    id: Identifier
    name: Text
    purpose: Literal["investigation", "routine"] = "investigation"
    lead: Text
    limits: Limits
    medium: Identifier
    """The medium in the devices, as agreed with the laboratory."""
    hours_to_laboratory: Positive
    """From the end of the walk to the start of analysis."""
    transport_temperature_c: float = Field(ge=-40, le=60)
    emphasis: Literal["find", "find_and_hit"] = "find"


class Investigation(Part):
    """One suspected plant, from the signal to closure."""

    format: Literal["swabwright/investigation"]
    version: Literal[1]
    name: Text
    reference: Text
    agency: Text
    organism: Identifier
    signal_on: date
    seed: int = Field(ge=0, lt=2**63)
    implicated: tuple[Implicated, ...] = ()
    product_tests: tuple[ProductTest, ...] = ()
    earlier_results: tuple[EarlierResult, ...] = ()
    presence: Presence
    visits: tuple[Visit, ...] = Field(min_length=1)
    unconfirmed: dict[str, Text] = Field(default_factory=dict)
