"""What one drawing shows: the whole plant, or one room enlarged when the plant is too crowded for its marks."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from math import dist, pi

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from swabwright.case.plan import Plan, PlannedSample
from swabwright.plant.document import Plant
from swabwright.plant.rooms import Room
from swabwright.reports.apart import apart
from swabwright.reports.footprints import floor
from swabwright.reports.frame import Dot, Frame, frame_for
from swabwright.reports.marks import Mark

ROUND_THE_ROOM_M = 1.2
CROWDED_SHARE = 0.2
"""Share of the floor under marks from which the marks stand on a page for each room."""
CROWDED_SHIFT_MM = 9.0
"""A mark that would stand farther than this from its site makes a drawing too crowded."""


@dataclass(frozen=True)
class Stop:
    """A sample on the drawing: its mark, where it is, and where it is shown, in millimetres."""

    sample: PlannedSample
    mark: Mark
    home: Dot
    shown: Dot


@dataclass(frozen=True)
class View:
    """A part of the plant on paper: frame, rooms named, stops marked."""

    frame: Frame
    rooms: tuple[Room, ...]
    stops: tuple[Stop, ...]
    is_overview: bool
    """Whether the marks stand on pages of their own and the rooms name their samples."""

    @property
    def area(self) -> BaseGeometry:
        """The floor of the rooms shown, in millimetres."""
        return self.frame.shape(_together(self.rooms))


def whole_plant(plan: Plan, plant: Plant, room_mm: Dot) -> View:
    """The whole plant, with the marks if they find room."""
    frame = frame_for(floor(plant), room_mm)
    # marks are never shrunk to fit: a crowded plant is enlarged room by room instead
    if _covered_mm2(plan.samples) > CROWDED_SHARE * frame.shape(floor(plant)).area:
        return View(frame, plant.rooms, (), is_overview=True)
    stops = _stops(plan.samples, plant, frame)
    crowded = any(dist(stop.shown, stop.home) > CROWDED_SHIFT_MM for stop in stops)
    return View(frame, plant.rooms, () if crowded else stops, crowded)


def enlarged_rooms(plan: Plan, plant: Plant, room_mm: Dot) -> list[View]:
    """One view a room that has samples, in order of work."""
    by_room = {room.id: room for room in plant.rooms}
    order = list(dict.fromkeys(s.room for s in sorted(plan.samples, key=lambda s: s.order) if s.room in by_room))
    return [_room_view(plan, plant, by_room[room], room_mm) for room in order if room]


def _room_view(plan: Plan, plant: Plant, room: Room, room_mm: Dot) -> View:
    frame = frame_for(Polygon(room.outline).buffer(ROUND_THE_ROOM_M, join_style="mitre"), room_mm)
    here = [sample for sample in plan.samples if sample.room == room.id]
    return View(frame, (room,), _stops(here, plant, frame), is_overview=False)


def _stops(samples: Sequence[PlannedSample], plant: Plant, frame: Frame) -> tuple[Stop, ...]:
    """Every sample that has a site, its mark moved clear of the others; a site's samples in order of work."""
    places = {site.key: site.position for site in plant.sites}
    found = [sample for sample in samples if sample.site_key in places]
    homes = [frame.point(places[sample.site_key]) for sample in found if sample.site_key]
    marks = [Mark(sample.device, sample.zone or 0) for sample in found]
    shown = apart(homes, [mark.radius_mm() for mark in marks])
    return tuple(Stop(*parts) for parts in zip(found, marks, homes, shown, strict=True))


def _covered_mm2(samples: Sequence[PlannedSample]) -> float:
    return sum(pi * Mark(s.device, s.zone or 0).radius_mm() ** 2 for s in samples if s.site)


def _together(rooms: Sequence[Room]) -> BaseGeometry:
    whole: BaseGeometry = Polygon()
    for room in rooms:
        whole = whole.union(Polygon(room.outline))
    return whole


def orders_by_room(samples: Sequence[PlannedSample]) -> dict[str, list[int]]:
    """The order numbers of each room's samples, ascending."""
    placed = sorted((sample.room or "", sample.order) for sample in samples if sample.site)
    return {room: [order for _, order in group] for room, group in groupby(placed, key=lambda pair: pair[0])}
