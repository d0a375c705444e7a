"""Rooms and what is fixed in them: doors, drains, overhead things, air, equipment."""

from typing import Literal

from pydantic import Field

from swabwright.plant.model import Identifier, Metres, Part, Point, Positive, Text
from swabwright.plant.times import Period

OUTSIDE = "outside"
Wetness = Literal["wet", "damp", "dry"]


class Room(Part):
    """A room: its inner outline, hygiene class (1 = cleanest) and climate."""

    id: Identifier
    name: Text
    outline: tuple[Point, ...] = Field(min_length=3)
    hygiene_class: int = Field(ge=1, le=9)
    exposed_product: bool
    wetness: Wetness
    temperature_c: float = Field(ge=-60, le=80)
    no_electrical_devices: bool = False
    in_use: tuple[Period, ...] = ()
    """Hours of traffic and splashing; empty: as the lines in it."""


class Door(Part):
    """An opening that joins two rooms, or a room and `outside`."""

    id: Identifier
    joins: tuple[str, str]
    at: Point
    width_m: Positive
    barrier: Literal["none", "boots", "full_change"] = "none"
    """What must be changed here: nothing, boots and gloves, or gown, gloves and boots."""


class Drain(Part):
    """A pipe run with its floor openings (sites of this drain lie on it)."""

    id: Identifier
    name: Text
    path: tuple[Point, ...] = Field(min_length=2)
    flow: Literal["along", "against", "unknown"]
    """Whether the water runs along the drawn path, against it, or nobody has said."""


class Equipment(Part):
    """A machine or fixture with its outline on the floor."""

    id: Identifier
    name: Text
    room: str
    outline: tuple[Point, ...] = Field(min_length=3)
    line: str | None = None


class Overhead(Part):
    """Something above the floor that may drip: pipe, evaporator, ceiling, duct."""

    id: Identifier
    name: Text
    kind: Literal["pipe", "evaporator", "ceiling", "duct", "platform"]
    room: str
    outline: tuple[Point, ...] = Field(min_length=3)
    drips: bool


class AirUnit(Part):
    """A thing that blows: cooler, fan, duct outlet; with the direction when known."""

    id: Identifier
    name: Text
    room: str
    at: Point
    blows_towards: Point | None = None
    reach_m: Metres = 6.0
