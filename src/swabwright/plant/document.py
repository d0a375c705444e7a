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
    ecology: Literal["wet"]
    timezone: Text
    """IANA name; every wall-clock time in this document is in it."""
    base: Point
    """The clean base where kit is laid out and the walk begins."""
    rooms: tuple[Room, ...] = Field(min_length=1)
    doors: tuple[Door, ...] = ()
    drains: tuple[Drain, ...] = ()
    equipment: tuple[Equipment, ...] = ()
    overhead: tuple[Overhead, ...] = ()
    air: tuple[AirUnit, ...] = ()
    lines: tuple[Line, ...] = ()
    routes: tuple[Route, ...] = ()
    workstations: tuple[Workstation, ...] = ()
    cleanings: tuple[Cleaning, ...] = ()
    sites: tuple[Site, ...] = Field(min_length=1)
    switched_off: tuple[Text, ...] = ()
    """Edges or mechanisms a person has switched off: `mechanism:splash`, `S014>S020:hand`."""
    unconfirmed: dict[str, Text] = Field(default_factory=dict)
    """Path of a value (`sites[S014].position`) to the reason why nobody has confirmed it yet."""
