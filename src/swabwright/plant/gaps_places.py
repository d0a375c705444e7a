"""What is missing about places: rooms, machines and overhead things without sites, sites nobody has confirmed."""

import re
from collections.abc import Iterator

from shapely import Point as Spot
from shapely import Polygon

from swabwright.plant.catalogue import Catalogue, SiteType
from swabwright.plant.document import Plant
from swabwright.plant.gap import Gap, in_a_row
from swabwright.plant.rooms import Equipment

PATH = re.compile(r"^sites\[(?P<code>[^\]]+)\]\.(?P<field>\w+)$")
"""How the document names a field of a site that nobody has confirmed."""

SUGGESTED = 4


def place_gaps(plant: Plant, catalogue: Catalogue) -> Iterator[Gap]:
    """Everything unsaid about where one could sample."""
    yield from _base(plant)
    yield from _rooms(plant)
    yield from _overhead(plant)
    yield from _machines(plant, catalogue)
    yield from _zones(plant, catalogue)
    yield from _unconfirmed(plant)


def would_sample(machine: Equipment, catalogue: Catalogue) -> tuple[SiteType, ...]:
    """The site types the catalogue would sample on a machine, by the words of its name; at most four."""
    words = set(re.findall(r"[a-z]+", machine.name.lower()))
    scored = [(len(words & _words(kind)), kind) for kind in catalogue.site_types.values() if kind.holder == "equipment"]
    fitting = sorted((entry for entry in scored if entry[0]), key=lambda entry: -entry[0])
    return tuple(kind for _, kind in fitting[:SUGGESTED])


def _words(kind: SiteType) -> set[str]:
    return set(re.findall(r"[a-z]{4,}", " ".join((kind.name, *kind.also_called)).lower()))


def _base(plant: Plant) -> Iterator[Gap]:
    around = [room for room in plant.rooms if Polygon(room.outline).covers(Spot(plant.base))]
    here = min(around, key=lambda room: Polygon(room.outline).area, default=None)
    if here is not None and here.exposed_product:
        yield Gap(
            f"The clean base lies in {here.name}, where product is exposed.",
            "base",
            "Lay the kit out where no product is open.",
        )


def _rooms(plant: Plant) -> Iterator[Gap]:
    for place, room in enumerate(plant.rooms):
        if not any(site.room == room.id for site in plant.sites):
            yield Gap(
                f"{room.name}: no site in it; what lives there could only be seen elsewhere.",
                f"rooms[{place}]",
                "Add sites from the catalogue.",
                important=room.exposed_product,
            )


def _overhead(plant: Plant) -> Iterator[Gap]:
    # What hangs above drips on what lies below, so a thing without a site is a hole in the plan.
    names = {room.id: room.name for room in plant.rooms}
    for place, thing in enumerate(plant.overhead):
        if not any(site.overhead == thing.id for site in plant.sites):
            yield Gap(
                f"{thing.name} hangs in {names[thing.room]}, and no site is on it.",
                f"overhead[{place}]",
                "Add a site, or say which site belongs to it.",
                important=thing.drips,
            )


def _machines(plant: Plant, catalogue: Catalogue) -> Iterator[Gap]:
    for place, machine in enumerate(plant.equipment):
        if any(site.equipment == machine.id for site in plant.sites):
            continue
        kinds = [kind.name.lower() for kind in would_sample(machine, catalogue)]
        hint = f" The catalogue would sample: {'; '.join(kinds)}." if kinds else ""
        yield Gap(
            f"{machine.name} has no site.{hint}",
            f"equipment[{place}]",
            "Add its sites, or say which sites belong to it.",
            important=machine.line is not None,
        )


def _zones(plant: Plant, catalogue: Catalogue) -> Iterator[Gap]:
    odd = [site.code for site in plant.sites if site.zone not in catalogue.site_types[site.type].zones]
    if odd:
        yield Gap(
            f"{in_a_row(odd)}: the zone is not the usual one of the site type.",
            "sites",
            "Keep the plant's own zone, or mend the site type.",
        )


def _unconfirmed(plant: Plant) -> Iterator[Gap]:
    by_field: dict[str, list[str]] = {}
    for path, reason in plant.unconfirmed.items():
        match = PATH.match(path)
        if match:
            by_field.setdefault(match["field"], []).append(match["code"])
        else:
            yield Gap(f"{path}: {reason}", path, "Confirm it, or set it right.")
    for field, codes in sorted(by_field.items()):
        yield Gap(
            f"Nobody has confirmed the {field.replace('_', ' ')} of {in_a_row(codes)}.",
            f"sites[{codes[0]}].{field}",
            "Confirm on the floor, or set right.",
            important=field in ("position", "type"),
        )
