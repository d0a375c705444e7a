"""An invented plant as a DXF drawing: version, unit, layers and manner of drawing chosen at random."""

import contextlib
import io
import logging
from dataclasses import dataclass
from pathlib import Path

import ezdxf
import numpy as np

from benchmarks.invented_plants.contents import Contents, Spot, Way
from benchmarks.invented_plants.floor import Floor, Opening, Point
from benchmarks.invented_plants.wording import LAYERS, PLAIN_LAYERS

PER_METRE = {"mm": 1000.0, "cm": 100.0, "m": 1.0, "inch": 1 / 0.0254, "feet": 1 / 0.3048}
CODES = {"inch": 1, "feet": 2, "mm": 4, "cm": 5, "m": 6}
VERSIONS = ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")


@dataclass(frozen=True)
class Manner:
    """How one plant's drawing is made."""

    version: str
    unit: str
    stated: bool
    layers: dict[str, str]
    rooms_as: str
    """polyline, or loose lines."""
    doors_as: str
    """line, swing or symbol."""
    sites_as: str
    """text, symbol or nothing."""
    origin: Point


def choose_manner(rng: np.random.Generator) -> Manner:
    """A manner of drawing; a drawing without a unit, as all of R12, is made in mm or m."""
    version = str(rng.choice(VERSIONS))
    stated = version != "R12" and bool(rng.random() < 0.75)
    unit = str(rng.choice(list(PER_METRE))) if stated else str(rng.choice(["mm", "mm", "m"]))
    return Manner(
        version=version,
        unit=unit,
        stated=stated,
        layers={**PLAIN_LAYERS, **LAYERS[int(rng.integers(len(LAYERS)))]},
        rooms_as=str(rng.choice(["polyline", "polyline", "lines"])),
        doors_as=str(rng.choice(["line", "swing", "symbol"])),
        sites_as=str(rng.choice(["text", "symbol", "nothing"])),
        origin=(float(rng.choice([0.0, 0.0, 120.0])), float(rng.choice([0.0, -35.0]))),
    )


class Pen:
    """Draws in metres, in one manner."""

    def __init__(self, manner: Manner) -> None:
        self.manner = manner
        self.document = ezdxf.new(manner.version)
        self.space = self.document.modelspace()
        if manner.version != "R12":
            self.document.header["$INSUNITS"] = CODES[manner.unit] if manner.stated else 0
        for name, size in (("DOOR", 0.0), ("MARK", 0.15), ("COOLER", 0.4)):
            block = self.document.blocks.new(name)
            if size:
                block.add_circle((0, 0), self.length(size))
            else:
                block.add_line((0, 0), (1, 0))

    def length(self, metres: float) -> float:
        """A length in drawing units."""
        return metres * PER_METRE[self.manner.unit]

    def at(self, point: Point) -> Point:
        """A place in drawing units."""
        shifted = (point[0] + self.manner.origin[0], point[1] + self.manner.origin[1])
        return (self.length(shifted[0]), self.length(shifted[1]))

    def polyline(self, role: str, points: list[Point], close: bool = True) -> None:
        """A polyline on the layer of its role."""
        places = [self.at(point) for point in points]
        attributes = {"layer": self.manner.layers[role]}
        if self.manner.version == "R12":
            self.space.add_polyline2d(places, close=close, dxfattribs=attributes)
        else:
            self.space.add_lwpolyline(places, close=close, dxfattribs=attributes)

    def loose(self, role: str, points: list[Point]) -> None:
        """The same closed outline as single lines."""
        for start, end in zip(points, [*points[1:], points[0]], strict=True):
            self.space.add_line(self.at(start), self.at(end), dxfattribs={"layer": self.manner.layers[role]})

    def text(self, role: str, at: Point, words: str, height: float) -> None:
        """A text on the layer of its role."""
        attributes = {"layer": self.manner.layers[role], "height": self.length(height)}
        self.space.add_text(words, dxfattribs=attributes).set_placement(self.at(at))

    def symbol(self, role: str, at: Point, block: str, **attributes: str) -> None:
        """A block on the layer of its role, its attributes at the same place."""
        mark = self.space.add_blockref(block, self.at(at), dxfattribs={"layer": self.manner.layers[role]})
        for tag, value in attributes.items():
            mark.add_attrib(tag, value, self.at(at))

    def save(self, path: Path) -> None:
        """Write the file; the library's word on R12 having no units is kept off the screen."""
        logging.getLogger("ezdxf").setLevel(logging.ERROR)
        with contextlib.redirect_stderr(io.StringIO()), contextlib.redirect_stdout(io.StringIO()):
            self.document.saveas(path)


def draw(floor: Floor, contents: Contents, manner: Manner) -> Pen:
    """The whole plant drawn."""
    pen = Pen(manner)
    for room in floor.rooms:
        (pen.loose if manner.rooms_as == "lines" else pen.polyline)("rooms", room.outline)
        pen.text("room_names", (room.left + 0.4, room.top - 0.8), room.name, 0.35)
    for door in floor.doors:
        _door(pen, door)
    for machine, _ in contents.machines:
        pen.polyline("equipment", machine.outline)
        pen.text("equipment", (machine.left + 0.05, machine.middle[1]), machine.name, 0.12)
    for pipe in contents.pipes:
        pen.polyline("overhead", pipe.outline)
        pen.text("overhead", (pipe.left + 0.1, pipe.bottom + 0.05), pipe.name, 0.1)
    for number, cooler in enumerate(contents.coolers, start=1):
        pen.symbol("air", cooler, "COOLER", NAME=f"Cooler {number}")
    _ways(pen, contents)
    _codes(pen, contents.sites)
    return pen


def _door(pen: Pen, door: Opening) -> None:
    layer = {"layer": pen.manner.layers["doors"]}
    width = abs(door.end[0] - door.start[0]) + abs(door.end[1] - door.start[1])
    upright = door.start[0] == door.end[0]
    if pen.manner.doors_as == "line":
        pen.space.add_line(pen.at(door.start), pen.at(door.end), dxfattribs=layer)
    elif pen.manner.doors_as == "swing":
        angles = (0.0, 90.0)
        leaf = (door.start[0] + width, door.start[1]) if upright else (door.start[0], door.start[1] + width)
        pen.space.add_arc(pen.at(door.start), pen.length(width), *angles, dxfattribs=layer)
        pen.space.add_line(pen.at(door.start), pen.at(leaf), dxfattribs=layer)
    else:
        mark = pen.space.add_blockref("DOOR", pen.at(door.start), dxfattribs=layer)
        mark.dxf.xscale = mark.dxf.yscale = pen.length(width)
        mark.dxf.rotation = 90.0 if upright else 0.0


def _ways(pen: Pen, contents: Contents) -> None:
    for role, ways in (
        ("drains", contents.drains),
        ("route_people", contents.people),
        ("route_trolley", contents.trolleys),
    ):
        for way in ways:
            pen.polyline(role, list(way.points), close=False)
            pen.text(role, _beside(way), way.name, 0.12)


def _beside(way: Way) -> Point:
    return (way.points[0][0] + 0.3, way.points[0][1] + 0.1)


def _codes(pen: Pen, sites: tuple[Spot, ...]) -> None:
    for site in sites:
        if pen.manner.sites_as == "text":
            pen.text("sites", site.at, site.code, 0.1)
        elif pen.manner.sites_as == "symbol":
            pen.symbol("sites", site.at, "MARK", CODE=site.code)
