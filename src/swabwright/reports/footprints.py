"""Where a place lies on the floor: the area over which its dots are spread."""

from math import pi, sqrt

from shapely import Polygon
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.document import Plant
from swabwright.plant.sites import Site

POOL_M = 0.6
"""Radius of the pool that stands around a floor opening."""
RUN_M = 2.5
"""How far along its pipe the dots of a drain site lie."""
PIPE_M = 0.3
SMALLEST_M = 0.35
"""Radius of a site too small to be seen on a plan."""
CM2_PER_M2 = 10_000.0
NOT_DRAWN = "line:"


def is_drawn(place: str) -> bool:
    """Whether a place of the belief can be shown on the drawing; incoming material cannot."""
    return not place.startswith(NOT_DRAWN)


def room_polygon(plant: Plant, room: str) -> Polygon:
    """The inner outline of a room in metres."""
    for candidate in plant.rooms:
        if candidate.id == room:
            return Polygon(candidate.outline)
    raise SwabwrightError(f"no room '{room}' in the plant{did_you_mean(room, [r.id for r in plant.rooms])}")


def floor(plant: Plant) -> BaseGeometry:
    """The whole floor in metres, all rooms together."""
    return unary_union([Polygon(room.outline) for room in plant.rooms])


def footprint(plant: Plant, place: str) -> BaseGeometry:
    """The area in metres where a drawn place lies: machine, pool and pipe, room, or a disc of the site's area."""
    if place.startswith("room:"):
        return room_polygon(plant, place.removeprefix("room:"))
    site = next((site for site in plant.sites if site.code == place), None)
    if site is None:
        known = [site.code for site in plant.sites]
        raise SwabwrightError(
            f"the belief names a site '{place}' that the plant does not have{did_you_mean(place, known)}"
        )
    return _site_footprint(plant, site)


def _site_footprint(plant: Plant, site: Site) -> BaseGeometry:
    room = room_polygon(plant, site.room)
    shape = _equipment(plant, site) or _overhead(plant, site) or _drain(plant, site) or _disc(site)
    # a pipe runs under walls, a machine does not stand through them
    inside = shape.intersection(room.union(shape) if site.drain else room)
    return inside if inside.area > 0 else _disc(site)


def _equipment(plant: Plant, site: Site) -> BaseGeometry | None:
    return next((Polygon(machine.outline) for machine in plant.equipment if machine.id == site.equipment), None)


def _overhead(plant: Plant, site: Site) -> BaseGeometry | None:
    return next((Polygon(thing.outline) for thing in plant.overhead if thing.id == site.overhead), None)


def _drain(plant: Plant, site: Site) -> BaseGeometry | None:
    drain = next((drain for drain in plant.drains if drain.id == site.drain), None)
    if drain is None:
        return None
    opening = Point(site.position)
    run = LineString(drain.path).intersection(opening.buffer(RUN_M))
    return run.buffer(PIPE_M).union(opening.buffer(POOL_M)).intersection(floor(plant))


def _disc(site: Site) -> BaseGeometry:
    area_m2 = (site.area_cm2 or 0.0) / CM2_PER_M2
    return Point(site.position).buffer(max(SMALLEST_M, sqrt(area_m2 / pi)))
