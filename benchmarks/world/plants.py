"""Whole invented plants of any size: machines, drains, routes, hands, schedule and sites."""

from typing import TypeVar

import numpy as np

from benchmarks.world.layout import HALL, Box, Floor, make_floor
from swabwright.plant.catalogue import Catalogue, SiteType
from swabwright.plant.document import Plant
from swabwright.plant.lines import Cleaning, Line, Route, Touch, Workstation
from swabwright.plant.rooms import Drain, Equipment, Overhead
from swabwright.plant.sites import Site
from swabwright.plant.times import Period

MACHINES = ("infeed", "slicer", "conveyor", "scale", "packer", "outfeed")
ON_MACHINES = ("equipment", "tool", "hands", "air")
Thing = TypeVar("Thing")
WEEK = ("mon", "tue", "wed", "thu", "fri")


def make_plant(catalogue: Catalogue, *, seed: int, sites: int = 200, lines: int = 2) -> Plant:
    """An invented wet plant with so many sites; the same seed gives the same plant, keys included."""
    random = np.random.default_rng(seed)
    floor = make_floor(random)
    machines = _machines(floor.boxes[HALL], lines)
    drains = _drains(floor)
    overhead = _overhead(floor.boxes[HALL])
    placed = _Placer(catalogue, floor, machines, drains, overhead, random).place(sites)
    return Plant(
        format="swabwright/plant",
        version=1,
        name=f"Invented plant {seed}",
        ecology="wet",
        timezone="Etc/UTC",
        base=floor.boxes["boots"].spot(np.random.default_rng(0)),
        rooms=floor.rooms,
        doors=floor.doors,
        drains=drains,
        equipment=machines,
        overhead=overhead,
        lines=tuple(_line(f"line-{number}", floor.boxes[HALL], lines, number) for number in range(lines)),
        routes=_routes(floor),
        workstations=_workstations(placed, lines),
        cleanings=_cleanings(floor, lines),
        sites=placed,
    )


def _row_y(hall: Box, lines: int, number: int) -> float:
    return hall.bottom + (number + 1) * (hall.top - hall.bottom) / (lines + 1)


def _machines(hall: Box, lines: int) -> tuple[Equipment, ...]:
    pitch = (hall.right - hall.left - 4) / len(MACHINES)
    machines = []
    for number in range(lines):
        y = _row_y(hall, lines, number)
        for place, name in enumerate(MACHINES):
            box = Box(hall.left + 2 + place * pitch, y - 0.9, hall.left + 2 + (place + 0.8) * pitch, y + 0.9)
            machines.append(
                Equipment(
                    id=f"{name}-{number}",
                    name=f"{name.capitalize()} {number + 1}",
                    room=HALL,
                    outline=box.outline,
                    line=f"line-{number}",
                )
            )
    return tuple(machines)


def _line(name: str, hall: Box, lines: int, number: int) -> Line:
    y = _row_y(hall, lines, number)
    return Line(
        id=name,
        name=f"Line {number + 1}",
        product="cooked, sliced, ready to eat",
        path=((hall.left + 2, y), (hall.right - 2.5, y)),
        kg_per_hour=300.0,
        raw_material_may_carry=True,
        runs=(_period("06:00", "14:00"),),
        breaks=(_period("10:00", "10:20"), _period("12:00", "12:30")),
    )


def _period(starts_at: str, ends_at: str) -> Period:
    return Period.model_validate_json(
        f'{{"days": {list(WEEK)!r}, "starts_at": "{starts_at}:00", "ends_at": "{ends_at}:00"}}'.replace("'", '"')
    )


def _drains(floor: Floor) -> tuple[Drain, ...]:
    drains = []
    for room, box in floor.boxes.items():
        runs = 3 if room == HALL else 1
        for number in range(runs):
            y = box.bottom + (number + 0.5) * (box.top - box.bottom) / runs
            path = ((box.right - 0.6, y), ((box.left + box.right) / 2, y - 0.2), (box.left + 0.6, y))
            drains.append(Drain(id=f"drain-{room}-{number}", name=f"Drain {len(drains) + 1}", path=path, flow="along"))
    return tuple(drains)


def _overhead(hall: Box) -> tuple[Overhead, ...]:
    middle = (hall.left + hall.right) / 2
    box = Box(middle - 3, hall.top - 3, middle + 3, hall.top - 1)
    return (Overhead(id="cooler", name="Air cooler", kind="evaporator", room=HALL, outline=box.outline, drips=True),)


def _middle(box: Box) -> tuple[float, float]:
    return ((box.left + box.right) / 2, (box.bottom + box.top) / 2)


def _routes(floor: Floor) -> tuple[Route, ...]:
    doors = {door.id: door.at for door in floor.doors}
    hall = _middle(floor.boxes[HALL])
    ways = (
        ("people", "people", 10.0, "boots"),
        ("trolleys", "trolley", 5.0, "chill"),
        ("empties", "trolley", 4.0, "wash"),
        ("bins", "waste", 2.0, "waste"),
    )
    return tuple(
        Route.model_validate(
            {
                "id": name,
                "name": name.capitalize(),
                "kind": kind,
                "path": (_middle(floor.boxes[room]), doors[f"door-{room}"], hall),
                "trips_per_hour": trips,
            }
        )
        for name, kind, trips, room in ways
    )


def _workstations(sites: tuple[Site, ...], lines: int) -> tuple[Workstation, ...]:
    stations = []
    for number in range(lines):
        for machine in ("infeed", "packer"):
            near = [site for site in sites if site.equipment == f"{machine}-{number}"][:6]
            if len(near) >= 2:
                touches = tuple(Touch(site=site.code, weight=3.0 if site.zone == 1 else 1.0) for site in near)
                stations.append(
                    Workstation(id=f"{machine}-{number}", name=f"{machine} {number}", room=HALL, touches=touches)
                )
    return tuple(stations)


def _cleanings(floor: Floor, lines: int) -> tuple[Cleaning, ...]:
    return (
        Cleaning(
            id="night",
            name="Night clean",
            kind="full",
            rooms=tuple(room.id for room in floor.rooms),
            lines=tuple(f"line-{number}" for number in range(lines)),
            when=(_period("15:00", "19:00"),),
            chemistry="quat_normal",
            strength_ppm=300.0,
        ),
    )


class _Placer:
    """Draws sites: half of them on the machines, the rest on drains, floors, walls, wheels and overhead."""

    def __init__(
        self,
        catalogue: Catalogue,
        floor: Floor,
        machines: tuple[Equipment, ...],
        drains: tuple[Drain, ...],
        overhead: tuple[Overhead, ...],
        random: np.random.Generator,
    ) -> None:
        self._types = list(catalogue.site_types.values())
        self._floor, self._machines, self._drains, self._overhead = floor, machines, drains, overhead
        self._random = random

    def place(self, count: int) -> tuple[Site, ...]:
        """So many sites, half of them on machines."""
        return tuple(self._site(number) for number in range(count))

    def _site(self, number: int) -> Site:
        kind = self._kind(on_machine=number % 2 == 0)
        machine = self._pick(self._machines) if kind.holder in ON_MACHINES else None
        drain = self._pick(self._drains) if kind.holder == "drain" else None
        overhead = self._pick(self._overhead) if kind.holder == "overhead" else None
        room, position = self._where(machine, drain, overhead)
        return Site(
            key=self._random.bytes(16).hex(),
            code=f"S{number + 1:03d}",
            name=f"{machine.name if machine else room.capitalize()}, {kind.name.lower()}",
            type=kind.id,
            room=room,
            position=position,
            zone=kind.zones[0],
            line=machine.line if machine else None,
            equipment=machine.id if machine else None,
            drain=drain.id if drain else None,
            overhead=overhead.id if overhead else None,
        )

    def _kind(self, *, on_machine: bool) -> SiteType:
        fitting = [kind for kind in self._types if (kind.holder in ON_MACHINES) == on_machine]
        return fitting[int(self._random.integers(len(fitting)))]

    def _pick(self, things: tuple[Thing, ...]) -> Thing:
        return things[int(self._random.integers(len(things)))]

    def _where(
        self, machine: Equipment | None, drain: Drain | None, overhead: Overhead | None
    ) -> tuple[str, tuple[float, float]]:
        if machine is not None or overhead is not None:
            corners = np.array((machine or overhead).outline)  # type: ignore[union-attr]
            low, high = corners.min(axis=0), corners.max(axis=0)
            x, y = self._random.uniform(low + 0.1, high - 0.1)
            return HALL, (round(float(x), 3), round(float(y), 3))
        if drain is not None:
            return drain.id.split("-")[1], self._pick(drain.path)
        room = self._pick(tuple(self._floor.boxes))
        return room, self._floor.boxes[room].spot(self._random)
