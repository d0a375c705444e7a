"""The plan document: what was chosen, in which order, and what it can and cannot show."""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime, Field

from swabwright.plant.model import Fraction, Identifier, Part, Point, Text
from swabwright.plant.sites import Mode


class Chance(Part):
    """A chance with its range and what it rests on; never a bare number."""

    value: Fraction
    low: Fraction
    high: Fraction
    basis: Text


class Presence(Part):
    """The chance that it lives here, before and after 'not detected' in every sample."""

    before: Chance
    after: Chance


class PlannedSample(Part):
    """One container: a surface sample, a blank or a duplicate."""

    sample_number: Text
    order: int = Field(ge=1)
    """Order of work; has nothing to do with the number."""
    kind: Literal["surface", "blank", "duplicate"]
    site: str | None
    site_key: str | None
    site_name: str | None
    room: str | None
    zone: int | None
    device: Text
    mode: Mode
    area_cm2: float | None
    area_words: Text
    minutes: float
    arrive_at: AwareDatetime
    team: int
    change_first: tuple[Text, ...] = ()
    """What is changed or done before this sample: 'gloves and sleeves', 'gown, gloves and boots'."""
    needs: tuple[Text, ...] = ()
    """Stop, isolation and mechanic, in words, with minutes down."""
    why: Text
    gain: Fraction | None = None
    """What this sample added to the chance when it was chosen."""


class Leg(Part):
    """The way from one stop to the next, through doors, never through a wall."""

    from_order: int
    """0 is the clean base."""
    to_order: int
    path: tuple[Point, ...] = Field(min_length=1)
    metres: float
    barriers: tuple[Text, ...] = ()
    """Doors with a hygiene barrier on the way."""


class Wait(Part):
    """Minutes spent waiting, for instance for an agreed stop, before an order number."""

    before_order: int
    minutes: float
    reason: Text


class Walk(Part):
    """The walk of one team, its length and how far it could be from the shortest."""

    metres: float
    minutes: float
    excess_over_bound: float
    """How much longer than a proved lower bound of any allowed walk, as a share (0.03 = 3 in 100)."""
    starts_at: AwareDatetime
    ends_at: AwareDatetime
    legs: tuple[Leg, ...]
    waits: tuple[Wait, ...] = ()


class KitLine(Part):
    """One thing to pack: how many are used, how many spare, and why."""

    item: Text
    needed: int
    spare: int
    why: Text


class PlanWarning(Part):
    """A caution that follows from the chosen sites or from the data."""

    kind: Literal["safety", "hold", "timing", "data", "rulebook"]
    text: Text
    sites: tuple[str, ...] = ()


class Believed(Part):
    """One place's share of where it may live, with its dots out of 1,000."""

    place: Text
    """Site code, `room:<id>` or `line:<id>`."""
    name: Text
    share: Fraction
    dots: int


class Stipple(Part):
    """Exactly 1,000 dots: positions in metres for what is drawn, a count for what is not."""

    dots: tuple[Point, ...]
    not_drawn: int
    drawn_wider: tuple[str, ...] = ()
    diameter_m: float
    spacing_m: float


class CurvePoint(Part):
    """The chance of finding with the first so many samples, and the best any plan could do."""

    samples: int
    chance: Chance
    best_any_plan: float | None


class RestsOn(Part):
    """An unconfirmed figure that the plan rests on, with what it moves."""

    name: Text
    words: Text
    value: Text
    source: Text
    influence: float | None
    """Points in 100 by which the chance of finding moves over its range; None where that was not measured."""


class Hashes(Part):
    """SHA-256 of everything the plan was made from."""

    investigation: str
    plant: str
    rulebook: str
    overrides: str | None
    figures: str
    pocket_table: str
    results: str | None = None
    """Of the record whose results the plan goes by; None for a plan made before any."""


class Plan(Part):
    """The plan of one visit: samples, order, clock, kit, and what the visit can show."""

    format: Literal["swabwright/plan"]
    version: Literal[1]
    visit: Identifier
    investigation: Text
    plant: Text
    visit_date: date
    software_version: str
    model_version: str
    seed: int
    hashes: Hashes
    chance_of_finding: Chance
    chance_of_hitting: Chance
    """That a sample sits on the niche itself and detects it."""
    upper_bound: float
    """On the planning rows, under these assumptions, no allowed choice does better."""
    gap: float
    gap_without_minutes: float
    not_detected_means: Presence
    curve: tuple[CurvePoint, ...]
    samples: tuple[PlannedSample, ...] = Field(min_length=1)
    judgement_kept_free: int
    spare_numbers: tuple[str, ...]
    walk: Walk
    kit: tuple[KitLine, ...]
    warnings: tuple[PlanWarning, ...]
    believed: tuple[Believed, ...]
    stipple: Stipple
    rests_on: tuple[RestsOn, ...]
    sentences: tuple[Text, ...]
    """The summary, in order of importance."""
