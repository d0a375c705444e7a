"""What moves: production lines, routes of people and wheels, cleaning, hands."""

from datetime import date
from typing import Literal

from pydantic import Field

from swabwright.plant.model import Identifier, Part, Point, Positive, Text
from swabwright.plant.times import AgreedStop, Period


class Line(Part):
    """A production line: the product's way, its hours, breaks and agreed stops."""

    id: Identifier
    name: Text
    product: Text
    """What it makes, in the plant's words."""
    path: tuple[Point, ...] = Field(min_length=2)
    """The way of the product, from first to last."""
    kg_per_hour: Positive
    """Usual output while it runs."""
    raw_material_may_carry: bool
    """Whether the raw material can bring the organism in."""
    runs: tuple[Period, ...] = Field(min_length=1)
    """Hours of production."""
    breaks: tuple[Period, ...] = ()
    """Hours in which it stands and its surfaces can be reached."""
    agreed_stops: tuple[AgreedStop, ...] = ()
    """Minutes agreed for the visit, by whom."""
    lots: tuple["Lot", ...] = ()
    """Lots that may be at stake."""


class Lot(Part):
    """A lot code made on a line on one day."""

    code: Text
    """As printed on the pack."""
    made_on: date


class Route(Part):
    """A way on the floor that people or wheels take again and again."""

    id: Identifier
    name: Text
    kind: Literal["people", "trolley", "forklift", "waste"]
    path: tuple[Point, ...] = Field(min_length=2)
    trips_per_hour: Positive
    """Passages in an hour while it is used."""
    hours: tuple[Period, ...] = ()
    """Empty: while any line of the rooms on the way runs."""


class Cleaning(Part):
    """A cleaning and disinfection of rooms or lines, with its chemistry and strength."""

    id: Identifier
    name: Text
    kind: Literal["full", "rinse", "dry"]
    """A full clean and disinfection, a rinse with water, or a dry clean."""
    rooms: tuple[str, ...] = ()
    """Ids of the rooms it covers."""
    lines: tuple[str, ...] = ()
    """Ids of the lines it covers."""
    when: tuple[Period, ...] = Field(min_length=1)
    """Its hours; it acts when they end."""
    chemistry: Identifier
    """A row of the media table (`quat_normal`, `chlorine`, `unknown` ...)."""
    strength_ppm: Positive | None = None
    """Strength in use, when known."""
    rinsed: bool = True
    """Whether the chemical is rinsed off afterwards."""


class Touch(Part):
    """A site touched by hands at a workstation; weights count relative to each other."""

    site: str
    """Code of the site."""
    weight: Positive
    """How often it is touched, relative to the others."""


class Workstation(Part):
    """A place where one pair of hands works and touches the sites listed."""

    id: Identifier
    name: Text
    room: str
    """Id of the room it is in."""
    touches: tuple[Touch, ...] = Field(min_length=2)
