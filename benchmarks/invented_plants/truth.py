"""What an invented plant really is, to hold its import against."""

from math import dist
from typing import Any

from shapely.geometry import Polygon

from benchmarks.invented_plants.contents import Contents
from benchmarks.invented_plants.drawing import Manner
from benchmarks.invented_plants.floor import Floor
from swabwright.plant.document import Plant

PLACE_M = 0.02
AREA_SHARE = 0.01
TYPES_RIGHT = 0.97
"""Least share of site types found: some words are names of two types."""

Truth = dict[str, Any]


def truth_of(floor: Floor, contents: Contents, manner: Manner) -> Truth:
    """Rooms, doors, machines, drains and sites as they were meant, places as drawn."""
    origin = manner.origin
    return {
        "rooms": {room.name: (room.right - room.left) * (room.top - room.bottom) for room in floor.rooms},
        "counts": {
            "doors": len(floor.doors),
            "equipment": len(contents.machines),
            "drains": len(contents.drains),
            "routes": len(contents.people) + len(contents.trolleys),
            "overhead": len(contents.pipes),
            "air": len(contents.coolers),
        },
        "sites": {
            site.code: {
                "type": site.type,
                "room": site.room,
                "zone": site.zone,
                "area_cm2": site.area_cm2,
                "at": None if manner.sites_as == "nothing" else (site.at[0] + origin[0], site.at[1] + origin[1]),
            }
            for site in contents.sites
        },
    }


def differences(plant: Plant, truth: Truth) -> list[str]:
    """Where the import differs from the truth; empty when nowhere."""
    wrong = []
    areas = {room.name: Polygon(room.outline).area for room in plant.rooms}
    if areas.keys() != truth["rooms"].keys():
        wrong.append(f"rooms {sorted(areas.keys() ^ truth['rooms'].keys())} differ")
    for name in areas.keys() & truth["rooms"].keys():
        if abs(areas[name] / truth["rooms"][name] - 1) > AREA_SHARE:
            wrong.append(f"room {name} has {areas[name]:.1f} m2, not {truth['rooms'][name]:.1f}")
    for kind, number in truth["counts"].items():
        if len(getattr(plant, kind)) != number:
            wrong.append(f"{len(getattr(plant, kind))} {kind}, not {number}")
    return wrong + _site_differences(plant, truth["sites"])


def _site_differences(plant: Plant, sites: dict[str, Truth]) -> list[str]:
    wrong = []
    names = {room.id: room.name for room in plant.rooms}
    if {site.code for site in plant.sites} != sites.keys():
        wrong.append("not the same sites")
    for site in plant.sites:
        meant = sites[site.code]
        if names[site.room] != meant["room"] or site.zone != meant["zone"]:
            wrong.append(f"{site.code} in {site.room}, zone {site.zone}")
        if abs((site.area_cm2 or 0) - meant["area_cm2"]) > 1:
            wrong.append(f"{site.code} has {site.area_cm2} cm2, not {meant['area_cm2']}")
        if meant["at"] and dist(site.position, meant["at"]) > PLACE_M:
            wrong.append(f"{site.code} stands at {site.position}, not {meant['at']}")
    right = sum(site.type == sites[site.code]["type"] for site in plant.sites)
    if right < TYPES_RIGHT * len(plant.sites):
        wrong.append(f"only {right} of {len(plant.sites)} site types found")
    return wrong
