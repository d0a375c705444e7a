"""How far the sites of a scan stand from each other: straight, or on foot through the plant's doors."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from swabwright.errors import DocumentRefused, Fault, SwabwrightError, did_you_mean
from swabwright.inference.windows import Floats
from swabwright.plant.document import Plant
from swabwright.plant.model import Point
from swabwright.plant.space import FloorSpace
from swabwright.work.scan_rows import Row


@dataclass(frozen=True)
class Floor:
    """Where distances come from: the plant document, when there is one, and whether they are walked."""

    plant: Plant | None = None
    walking: bool = False


def distances_of(rows: Sequence[Row], floor: Floor, name: str) -> tuple[tuple[str, ...], Floats]:
    """The sites by name and the metres between them.

    Errors: DocumentRefused with the row of a site that stands in two places or in none, SwabwrightError with the
    door that is missing on the way to one.
    """
    first = _first_rows(rows, name)
    sites = tuple(sorted(first))
    points = {site: _point(first[site], floor.plant, name) for site in sites}
    if floor.walking:
        return sites, _on_foot([first[site] for site in sites], points, floor.plant, name)
    where = np.array([points[site] for site in sites])
    return sites, np.linalg.norm(where[:, None] - where[None], axis=2)


def _first_rows(rows: Sequence[Row], name: str) -> dict[str, Row]:
    first: dict[str, Row] = {}
    for row in rows:
        if first.setdefault(row.site, row).point != row.point:
            raise DocumentRefused(name, [Fault(f"row {row.at}", f"site {row.site} stands elsewhere in an earlier row")])
    return first


def _point(row: Row, plant: Plant | None, name: str) -> Point:
    if row.point is not None:
        return row.point
    if plant is None:
        problem = "without x_m and y_m a plant document must say where sites are; name it with --plant"
        raise DocumentRefused(name, [Fault("row 1", problem)])
    drawn = {site.code: site.position for site in plant.sites}
    if row.site not in drawn:
        problem = f"no site {row.site} in the plant document{did_you_mean(row.site, list(drawn))}"
        raise DocumentRefused(name, [Fault(f"row {row.at}", problem)])
    return drawn[row.site]


def _on_foot(rows: Sequence[Row], points: Mapping[str, Point], plant: Plant | None, name: str) -> Floats:
    if plant is None:
        raise SwabwrightError("walking distance needs the plant document; name it with --plant")
    space = FloorSpace(plant)
    rooms = [_room(row, points[row.site], space, name) for row in rows]
    space.require_reachable(sorted(set(rooms)))
    metres = space.distance_matrix([points[row.site] for row in rows], rooms)
    np.fill_diagonal(metres, 0.0)
    return metres


def _room(row: Row, point: Point, space: FloorSpace, name: str) -> str:
    """The room the plant document gives a site; that of its place for a place of the file's own."""
    if row.point is None:
        return next(site.room for site in space.plant.sites if site.code == row.site)
    room = space.room_at(point)
    if room is None:
        problem = f"site {row.site} at ({point[0]:g}, {point[1]:g}) lies in no room of the plant document"
        raise DocumentRefused(name, [Fault(f"row {row.at}", problem)])
    return room
