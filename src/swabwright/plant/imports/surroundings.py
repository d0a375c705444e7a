"""What a site stands on or in: room, machine, drain, thing overhead."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint

from swabwright.plant.lines import Line
from swabwright.plant.model import Point
from swabwright.plant.rooms import Drain, Equipment, Overhead, Room


@dataclass(frozen=True)
class Surroundings:
    """Everything drawn that sites refer to."""

    rooms: Sequence[Room]
    equipment: Sequence[Equipment] = ()
    drains: Sequence[Drain] = ()
    overhead: Sequence[Overhead] = ()
    lines: Sequence[Line] = ()
    floors: Mapping[str, Polygon] = field(default_factory=dict)

    def room_at(self, point: Point, reach_m: float = 0.0) -> str | None:
        """The room a point lies in, else the nearest room within reach of it."""
        near = [(floor.distance(ShapelyPoint(point)), room) for room, floor in self.floors.items()]
        # Of two rooms whose wall a point stands on the nearer inner outline wins.
        distance, room = min(near)
        return room if distance <= reach_m else None

    def equipment_at(self, point: Point) -> str | None:
        """The machine whose outline holds a point."""
        here = ShapelyPoint(point)
        return next((each.id for each in self.equipment if Polygon(each.outline).covers(here)), None)

    def drain_at(self, point: Point, reach_m: float) -> str | None:
        """The drain whose pipe run passes within reach of a point."""
        near = [(LineString(drain.path).distance(ShapelyPoint(point)), drain.id) for drain in self.drains]
        return min(near)[1] if near and min(near)[0] <= reach_m else None

    def overhead_at(self, point: Point) -> str | None:
        """The thing overhead that a point lies under."""
        here = ShapelyPoint(point)
        return next((each.id for each in self.overhead if Polygon(each.outline).covers(here)), None)
