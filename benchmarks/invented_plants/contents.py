"""What stands in an invented plant: machines, drains, ways, lines and sites."""

from dataclasses import dataclass, replace

import numpy as np

from benchmarks.invented_plants.floor import Box, Floor, Point
from benchmarks.invented_plants.wording import MACHINES
from swabwright.plant.catalogue import Catalogue, SiteType

ON_MACHINES = ("equipment", "tool", "hands")
ORDER = ("raw", "cook", "chill", "ready")


@dataclass(frozen=True)
class Spot:
    """A site as its list and its drawing know it."""

    code: str
    name: str
    words: str
    type: str
    room: str
    zone: int
    area_cm2: float
    at: Point
    machine: str = ""
    height_m: float = 0.0
    material: str = ""


@dataclass(frozen=True)
class Way:
    """A named line on the drawing."""

    name: str
    points: tuple[Point, ...]


@dataclass(frozen=True)
class Contents:
    """Everything but rooms and doors."""

    machines: tuple[tuple[Box, int], ...]
    """Each with the number of its room."""
    drains: tuple[Way, ...]
    people: tuple[Way, ...]
    trolleys: tuple[Way, ...]
    lines: tuple[tuple[str, tuple[str, ...]], ...]
    """Name of each line and its machines in order."""
    pipes: tuple[Box, ...]
    coolers: tuple[Point, ...]
    sites: tuple[Spot, ...]


def fill(floor: Floor, catalogue: Catalogue, rng: np.random.Generator) -> Contents:
    """Machines, drains, ways, lines and 40 to 250 sites for a floor."""
    machines = _machines(floor, rng)
    drains = _drains(floor, rng)
    wet = [room for room in floor.rooms if room.role in ORDER]
    contents = Contents(
        machines=machines,
        drains=drains,
        people=_ways(floor, "Staff way", rng),
        trolleys=_ways(floor, "Trolley way", rng),
        lines=_lines(machines, rng),
        pipes=tuple(_pipe(room, number) for number, room in enumerate(wet, start=1) if rng.random() < 0.4),
        coolers=tuple((room.left + 0.6, room.top - 0.6) for room in wet if room.role == "chill"),
        sites=(),
    )
    return replace(contents, sites=_sites(floor, contents, catalogue, rng))


def _machines(floor: Floor, rng: np.random.Generator) -> tuple[tuple[Box, int], ...]:
    """One to three machines in each process room, side by side along its middle."""
    machines: list[tuple[Box, int]] = []
    for number, room in enumerate(floor.rooms):
        if room.role not in MACHINES:
            continue
        count = int(rng.integers(1, 4))
        step = (room.right - room.left - 2.4) / count
        for place in range(count):
            left, bottom = room.left + 1.2 + place * step, room.middle[1] - 0.5
            name = f"{rng.choice(MACHINES[room.role])} {len(machines) + 1}"
            machines.append((Box(name, room.role, left, bottom, left + max(0.5, step - 0.7), bottom + 1.0), number))
    return tuple(machines)


def _drains(floor: Floor, rng: np.random.Generator) -> tuple[Way, ...]:
    """A pipe run along the lower wall of most process rooms."""
    drains = []
    for room in floor.rooms:
        if room.role in ORDER and rng.random() < 0.8:
            y = room.bottom + 0.8
            drains.append(Way(f"Drain run {len(drains) + 1}", ((room.left + 0.5, y), (room.right - 0.5, y))))
    return tuple(drains)


def _ways(floor: Floor, name: str, rng: np.random.Generator) -> tuple[Way, ...]:
    """Ways through one to three doors, from the middle of one room to the middle of the next."""
    inner = [door for door in floor.doors if -1 not in door.joins]
    chosen = rng.choice(len(inner), size=min(len(inner), int(rng.integers(1, 4))), replace=False)
    ways = []
    for number in chosen:
        door = inner[int(number)]
        first, second = (floor.rooms[room] for room in door.joins)
        ways.append(Way(f"{name} {len(ways) + 1}", (first.middle, door.middle, second.middle)))
    return tuple(ways)


def _lines(machines: tuple[tuple[Box, int], ...], rng: np.random.Generator) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """One or two lines through the machines, raw to ready-to-eat."""
    ordered = sorted(machines, key=lambda each: ORDER.index(each[0].role))
    names = [machine.name for machine, _ in ordered]
    if len(names) < 5 or rng.random() < 0.5:
        return (("Line 1", tuple(names)),)
    return (("Line 1", tuple(names[::2])), ("Line 2", tuple(names[1::2])))


def _pipe(room: Box, number: int) -> Box:
    y = room.top - 1.0
    return Box(f"Pipe {number}", "pipe", room.left + 0.5, y, room.right - 0.5, y + 0.2)


def _sites(floor: Floor, contents: Contents, catalogue: Catalogue, rng: np.random.Generator) -> tuple[Spot, ...]:
    """40 to 250 sites, each of a random type in a room that can hold it."""
    number = int(rng.integers(40, 251))
    kinds = list(catalogue.site_types.values())
    spots: list[Spot] = []
    while len(spots) < number:
        kind = kinds[int(rng.integers(len(kinds)))]
        spot = _spot(f"S{len(spots) + 1:03d}", kind, (floor, contents), rng)
        if spot:
            spots.append(spot)
    return tuple(spots)


def _spot(code: str, kind: SiteType, place: tuple[Floor, Contents], rng: np.random.Generator) -> Spot | None:
    floor, contents = place
    words = str(rng.choice([kind.name, *kind.also_called]))
    zone = int(rng.choice(kind.zones))
    area = float(rng.choice([100.0, 200.0, 400.0, 900.0, 1500.0]))
    room = floor.rooms[int(rng.integers(len(floor.rooms)))]
    if kind.holder in ON_MACHINES:
        machine, number = contents.machines[int(rng.integers(len(contents.machines)))]
        room = floor.rooms[number]
        name = f"{words} of {machine.name}"
        return Spot(
            code, name, words, kind.id, room.name, zone, area, machine.inside(rng, 0.1), machine.name, 0.9, "steel"
        )
    if kind.holder == "drain":
        if not contents.drains:
            return None
        run = contents.drains[int(rng.integers(len(contents.drains)))]
        share = float(rng.random())
        at = (run.points[0][0] + share * (run.points[1][0] - run.points[0][0]), run.points[0][1])
        room = next(each for each in floor.rooms if each.left < at[0] < each.right and each.bottom < at[1] < each.top)
        return Spot(code, f"{words}, {run.name.lower()}", words, kind.id, room.name, 3, area, at)
    height = 2.6 if kind.holder == "overhead" else 0.0
    return Spot(
        code, f"{words}, {_side(rng)}", words, kind.id, room.name, zone, area, room.inside(rng, 0.3), height_m=height
    )


def _side(rng: np.random.Generator) -> str:
    return str(rng.choice(["north wall", "south wall", "by the door", "east corner", "west side", "under the window"]))
