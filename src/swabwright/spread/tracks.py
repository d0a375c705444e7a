"""Ways with a length: product lines, pipes, routes. Where a place lies on one, and what reaches it along one."""

from dataclasses import dataclass

import numpy as np
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint

from swabwright.plant.model import Point


@dataclass(frozen=True)
class Track:
    """A polyline with a width: metres along it stand for the surface it offers."""

    path: tuple[Point, ...]
    width_m: float

    @property
    def metres(self) -> float:
        """Its whole length."""
        return float(LineString(self.path).length)

    def reversed(self) -> "Track":
        """The same way walked backwards."""
        return Track(self.path[::-1], self.width_m)

    def metres_to(self, point: Point) -> float:
        """Metres along the track to the place nearest to a point."""
        return float(LineString(self.path).project(ShapelyPoint(point)))

    def metres_aside(self, point: Point) -> float:
        """Metres from a point to the track."""
        return float(LineString(self.path).distance(ShapelyPoint(point)))

    def stretch(self, metres: float, area_m2: float) -> tuple[float, float]:
        """From where to where a site of this area covers the track, its middle at `metres`."""
        half = area_m2 / self.width_m / 2
        return metres - half, metres + half

    def metres_within(self, outline: tuple[Point, ...]) -> list[tuple[float, float]]:
        """The stretches of the track that lie inside a room."""
        line = LineString(self.path)
        inside = line.intersection(Polygon(outline))
        pieces = getattr(inside, "geoms", [inside])
        ends = [
            sorted((line.project(ShapelyPoint(p.coords[0])), line.project(ShapelyPoint(p.coords[-1]))))
            for p in pieces
            if p.length > 0
        ]
        return [(float(first), float(last)) for first, last in ends]


def carried(start: float, stretch: tuple[float, float], kernel_m: float) -> float:
    """Share of what leaves `start` that is put down on a stretch ahead: exponential in metres, none behind."""
    first, last = (max(0.0, metres - start) for metres in stretch)
    return float(np.exp(-first / kernel_m) - np.exp(-last / kernel_m))
