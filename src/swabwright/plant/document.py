"""The plant document: the facility as drawn, in metres."""

from typing import Literal

from pydantic import Field

from swabwright.plant.lines import Cleaning, Line, Route, Workstation
from swabwright.plant.model import Part, Point, Text
from swabwright.plant.rooms import AirUnit, Door, Drain, Equipment, Overhead, Room
from swabwright.plant.sites import Site


class Plant(Part):
    """The facility: rooms, doors, drains, lines, equipment, routes, sites, schedule."""

    format: Literal["swabwright/plant"]
    version: Literal[1]
    name: Text
    """The plant's own name; an invented plant says so."""
    ecology: Literal["wet"]
    """How the organism lives here: wet surfaces, not dust."""
    timezone: Text
    """IANA name; every wall-clock time in this document is in it."""
    base: Point
    """The clean base where kit is laid out and the walk begins."""
    rooms: tuple[Room, ...] = Field(min_length=1)
    """Every room that can be walked or sampled."""
    doors: tuple[Door, ...] = ()
    """Openings between rooms; without one nobody walks and nothing is carried."""
    drains: tuple[Drain, ...] = ()
    """Pipe runs under the floor, with the way the water goes."""
    equipment: tuple[Equipment, ...] = ()
    """Machines and fixtures; one that is opened is opened once for all its sites."""
    overhead: tuple[Overhead, ...] = ()
    """What hangs above and may drip."""
    air: tuple[AirUnit, ...] = ()
    """What blows."""
    lines: tuple[Line, ...] = ()
    """Production lines, in the order of the product."""
    routes: tuple[Route, ...] = ()
    """Ways that people and wheels take again and again."""
    workstations: tuple[Workstation, ...] = ()
    """Which sites one pair of hands touches."""
    cleanings: tuple[Cleaning, ...] = ()
    """When what is cleaned, and with which chemical."""
    sites: tuple[Site, ...] = Field(min_length=1)
    """Every place that can be sampled."""
    switched_off: tuple[Text, ...] = ()
    """Edges or mechanisms a person has switched off: `mechanism:splash`, `S014>S020:hand`."""
    unconfirmed: dict[str, Text] = Field(default_factory=dict)
    """Path of a value (`sites[S014].position`) to the reason why nobody has confirmed it yet."""
