"""The product's way along each line: drawn, or through its machines in order."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import LineString, Polygon

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.drains import NAME_REACH_M, ways_drawn
from swabwright.plant.imports.labels import name_beside
from swabwright.plant.imports.outlines import middle_line
from swabwright.plant.model import Point
from swabwright.plant.rooms import Equipment

ORDER = re.compile(r"\s*(?:->|=>|>|\u2192|;|,|\n|/| then )\s*")
"""How people write a row of machines in order."""


@dataclass(frozen=True)
class Flow:
    """A drawn product way and the name written beside it, if any."""

    path: tuple[Point, ...]
    name: str | None


def drawn_flows(context: Context) -> list[Flow]:
    """Every drawn product way."""
    drawing = context.drawn("lines")
    paths = ways_drawn(drawing, "product way", context)
    return [Flow(path, name_beside(LineString(path), drawing.labels, NAME_REACH_M)) for path in paths]


def machines_named(text: str, equipment: Sequence[Equipment], context: Context, where: str) -> list[Equipment]:
    """The machines a text names in order; a name that is none is put aside."""
    names = {machine.id: machine.name for machine in equipment}
    machines = []
    # Names may hold hyphens and blanks, so only arrows, commas and strokes part them.
    for word in ORDER.split(text):
        found = context.find(word, names, "equipment") if word.strip() else None
        if found:
            machines.append(next(machine for machine in equipment if machine.id == found))
        elif word.strip():
            context.notes.put_aside(where, word, "no machine of this name is drawn")
    return machines


def way_through(machines: Sequence[Equipment]) -> tuple[Point, ...]:
    """The way from machine to machine in order, through their middles; along the machine when it is only one."""
    if len(machines) == 1:
        return middle_line(machines[0].outline)
    return tuple(_middle(machine) for machine in machines)


def machines_on(path: Sequence[Point], equipment: Sequence[Equipment]) -> list[Equipment]:
    """The machines that a drawn way passes through."""
    way = LineString(path)
    return [machine for machine in equipment if way.intersects(Polygon(machine.outline))]


def _middle(machine: Equipment) -> Point:
    centre = Polygon(machine.outline).centroid
    return (round(centre.x, 3), round(centre.y, 3))
