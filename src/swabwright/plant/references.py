"""Names in the plant document held against each other and against the catalogue."""

from collections.abc import Collection, Iterable, Iterator

from swabwright.errors import Fault, did_you_mean
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.plant_times import time_faults
from swabwright.plant.rooms import OUTSIDE
from swabwright.plant.sites import Site
from swabwright.plant.twice import twice_faults

KINDS = ("rooms", "doors", "drains", "equipment", "overhead", "air", "lines", "routes", "workstations", "cleanings")
"""Lists of the document whose entries have ids, each unique within its list."""


def reference_faults(plant: Plant, catalogue: Catalogue) -> tuple[Fault, ...]:
    """Every name given twice, every name that nothing bears, and every impossible time."""
    return (
        *_repeated(plant),
        *_door_faults(plant),
        *_part_faults(plant),
        *_cleaning_faults(plant, catalogue),
        *(fault for place, site in enumerate(plant.sites) for fault in _site_faults(place, site, plant, catalogue)),
        *_switch_faults(plant),
        *time_faults(plant),
    )


def _repeated(plant: Plant) -> Iterator[Fault]:
    for kind in KINDS:
        yield from twice_faults(kind, "id", [entry.id for entry in getattr(plant, kind)])
    yield from twice_faults("sites", "code", [site.code for site in plant.sites])
    yield from twice_faults("sites", "key", [site.key for site in plant.sites])


def _ids(entries: Iterable[object]) -> tuple[str, ...]:
    return tuple(entry.id for entry in entries)  # type: ignore[attr-defined]


def _unknown(path: str, noun: str, name: str | None, known: Collection[str]) -> Iterator[Fault]:
    if name is not None and name not in known:
        yield Fault(path, f"no {noun} '{name}'{did_you_mean(name, list(known))}")


def _door_faults(plant: Plant) -> Iterator[Fault]:
    known = (*_ids(plant.rooms), OUTSIDE)
    for place, door in enumerate(plant.doors):
        for side, room in enumerate(door.joins):
            yield from _unknown(f"doors[{place}].joins[{side}]", "room", room, known)
        if door.joins[0] == door.joins[1]:
            yield Fault(f"doors[{place}].joins", f"joins '{door.joins[0]}' to itself; name the room on the other side")


def _part_faults(plant: Plant) -> Iterator[Fault]:
    rooms, lines, codes = _ids(plant.rooms), _ids(plant.lines), [site.code for site in plant.sites]
    for kind in ("equipment", "overhead", "air", "workstations"):
        for place, entry in enumerate(getattr(plant, kind)):
            yield from _unknown(f"{kind}[{place}].room", "room", entry.room, rooms)
    for place, machine in enumerate(plant.equipment):
        yield from _unknown(f"equipment[{place}].line", "line", machine.line, lines)
    for place, station in enumerate(plant.workstations):
        for row, touch in enumerate(station.touches):
            yield from _unknown(f"workstations[{place}].touches[{row}].site", "site", touch.site, codes)


def _cleaning_faults(plant: Plant, catalogue: Catalogue) -> Iterator[Fault]:
    for place, cleaning in enumerate(plant.cleanings):
        path = f"cleanings[{place}]"
        for kind, noun in (("rooms", "room"), ("lines", "line")):
            for row, name in enumerate(getattr(cleaning, kind)):
                yield from _unknown(f"{path}.{kind}[{row}]", noun, name, _ids(getattr(plant, kind)))
        yield from _unknown(f"{path}.chemistry", "chemistry", cleaning.chemistry, catalogue.chemistries)
        # A cleaning that cleans nothing would quietly leave its line without one.
        if not cleaning.rooms and not cleaning.lines:
            yield Fault(path, f"'{cleaning.id}' cleans neither a room nor a line; name what it cleans")


def _site_faults(place: int, site: Site, plant: Plant, catalogue: Catalogue) -> Iterator[Fault]:
    path = f"sites[{place}]"
    yield from _unknown(f"{path}.type", "site type", site.type, catalogue.site_types)
    yield from _unknown(f"{path}.room", "room", site.room, _ids(plant.rooms))
    yield from _unknown(f"{path}.line", "line", site.line, _ids(plant.lines))
    yield from _unknown(f"{path}.equipment", "equipment", site.equipment, _ids(plant.equipment))
    yield from _unknown(f"{path}.drain", "drain", site.drain, _ids(plant.drains))
    yield from _unknown(f"{path}.overhead", "overhead thing", site.overhead, _ids(plant.overhead))
    yield from _unknown(f"{path}.surface", "surface", site.surface, catalogue.surfaces)
    for row, device in enumerate(site.devices or ()):
        yield from _unknown(f"{path}.devices[{row}]", "device", device, catalogue.devices)
    if site.devices == ():
        yield Fault(f"{path}.devices", "names no device; leave it out to take those of the site type")
    if site.split_from == site.key:
        yield Fault(f"{path}.split_from", "names the site itself; name the site it was cut from")


def _switch_faults(plant: Plant) -> Iterator[Fault]:
    for place, switched in enumerate(plant.switched_off):
        kind, _, name = switched.rpartition(":")
        if not name or not (kind == "mechanism" or ">" in kind):
            yield Fault(
                f"switched_off[{place}]", f"'{switched}' names no edge; write mechanism:splash or S014>S020:hand"
            )
