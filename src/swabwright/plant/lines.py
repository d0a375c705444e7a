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
    path: tuple[Point, ...] = Field(min_length=2)
    kg_per_hour: Positive
    raw_material_may_carry: bool
    runs: tuple[Period, ...] = Field(min_length=1)
    breaks: tuple[Period, ...] = ()
    agreed_stops: tuple[AgreedStop, ...] = ()
    lots: tuple["Lot", ...] = ()


class Lot(Part):
    """A lot code made on a line on one day."""

    code: Text
    made_on: date


class Route(Part):
    """A way on the floor that people or wheels take again and again."""

    id: Identifier
    name: Text
    kind: Literal["people", "trolley", "forklift", "waste"]
    path: tuple[Point, ...] = Field(min_length=2)
    trips_per_hour: Positive
    hours: tuple[Period, ...] = ()
    """Empty: while any line of the rooms on the way runs."""


class Cleaning(Part):
    """A cleaning and disinfection of rooms or lines, with its chemistry and strength."""

    id: Identifier
    name: Text
    kind: Literal["full", "rinse", "dry"]
    rooms: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    when: tuple[Period, ...] = Field(min_length=1)
    chemistry: Identifier
    """A row of the media table (`quat_normal`, `chlorine`, `unknown` ...)."""
    strength_ppm: Positive | None = None
    rinsed: bool = True


class Touch(Part):
    """A site touched by hands at a workstation; weights count relative to each other."""

    site: str
    weight: Positive


class Workstation(Part):
    """A place where one pair of hands works and touches the sites listed."""

    id: Identifier
    name: Text
    room: str
    touches: tuple[Touch, ...] = Field(min_length=2)
