"""Rooms and what is fixed in them: doors, drains, overhead things, air, equipment."""

from typing import Literal

from pydantic import Field

from swabwright.plant.model import Identifier, Part, Point, Positive, Text
from swabwright.plant.times import Period

OUTSIDE = "outside"
Wetness = Literal["wet", "damp", "dry"]


class Room(Part):
    """A room: its inner outline, hygiene class (1 = cleanest) and climate."""

    id: Identifier
    name: Text
    outline: tuple[Point, ...] = Field(min_length=3)
    """Inner outline, corner after corner; never crossing itself."""
    hygiene_class: int = Field(ge=1, le=9)
    """Order number of the area, 1 the cleanest; it never falls along a walk."""
    exposed_product: bool
    """Whether unpacked product is open here at any time."""
    wetness: Wetness
    """How the floor usually is while the lines run."""
    temperature_c: float = Field(ge=-60, le=80)
    no_electrical_devices: bool = False
    """Classified for dust or solvent: its sites go on the paper sheet, no phone."""
    in_use: tuple[Period, ...] = ()
    """Hours of traffic and splashing; empty: as the lines in it."""


class Door(Part):
    """An opening that joins two rooms, or a room and `outside`."""

    id: Identifier
    joins: tuple[str, str]
    """Ids of the two rooms, or of one room and `outside`."""
    at: Point
    """Middle of the opening, on the wall."""
    width_m: Positive
    barrier: Literal["none", "boots", "full_change"] = "none"
    """What must be changed here: nothing, boots and gloves, or gown, gloves and boots."""


class Drain(Part):
    """A pipe run with its floor openings (sites of this drain lie on it)."""

    id: Identifier
    name: Text
    path: tuple[Point, ...] = Field(min_length=2)
    """The pipe as drawn, from opening to opening."""
    flow: Literal["along", "against", "unknown"]
    """Whether the water runs along the drawn path, against it, or nobody has said."""


class Equipment(Part):
    """A machine or fixture with its outline on the floor."""

    id: Identifier
    name: Text
    room: str
    """Id of the room it stands in."""
    outline: tuple[Point, ...] = Field(min_length=3)
    line: str | None = None
    """Id of the line it belongs to, if any."""


class Overhead(Part):
    """Something above the floor that may drip: pipe, evaporator, ceiling, duct."""

    id: Identifier
    name: Text
    kind: Literal["pipe", "evaporator", "ceiling", "duct", "platform"]
    room: str
    """Id of the room it hangs in."""
    outline: tuple[Point, ...] = Field(min_length=3)
    """Its outline on the floor below."""
    drips: bool
    """Whether drops have been seen or are to be expected."""


class AirUnit(Part):
    """A thing that blows: cooler, fan, duct outlet; with the direction when known."""

    id: Identifier
    name: Text
    room: str
    at: Point
    blows_towards: Point | None = None
    """A point that it blows at; left out when nobody has said."""
    reach_m: Positive = 6.0
    """How far the air can be felt."""
