"""Sources of a bank as places of the plant: code, name, room and machine, and the groups they make."""

from collections.abc import Callable
from dataclasses import dataclass

from swabwright.belief.prior import LINE, ROOM
from swabwright.plant.document import Plant
from swabwright.plant.sites import Site


@dataclass(frozen=True)
class Spot:
    """One source as a place: `code` is a site's code, `room:<id>` or `line:<id>`."""

    code: str
    name: str
    room: str | None
    machine: str | None


@dataclass(frozen=True)
class Group:
    """A machine or a room, with the sources in it."""

    id: str
    name: str
    sources: tuple[int, ...]


@dataclass(frozen=True)
class Spots:
    """Every source of a bank as a place, in the bank's order."""

    every: tuple[Spot, ...]
    machines: tuple[Group, ...]
    rooms: tuple[Group, ...]

    @property
    def not_drawn(self) -> tuple[int, ...]:
        """Sources that are the rest of a room."""
        return tuple(at for at, spot in enumerate(self.every) if spot.code.startswith(ROOM))

    @property
    def incoming(self) -> tuple[int, ...]:
        """Sources that are incoming material."""
        return tuple(at for at, spot in enumerate(self.every) if spot.code.startswith(LINE))

    def at(self, code: str) -> int:
        """The source with this code."""
        return next(at for at, spot in enumerate(self.every) if spot.code == code)


def spots_of(plant: Plant, source_names: tuple[str, ...]) -> Spots:
    """The sources of a bank as places of the plant, by the plant's own names."""
    named = {site.key: _site(site) for site in plant.sites}
    named |= {
        f"{ROOM}{room.id}": Spot(f"{ROOM}{room.id}", f"rest of {room.name}", room.id, None) for room in plant.rooms
    }
    named |= {
        f"{LINE}{line.id}": Spot(f"{LINE}{line.id}", f"incoming material of {line.name}", None, None)
        for line in plant.lines
    }
    every = tuple(named[name] for name in source_names)
    machines = {machine.id: machine.name for machine in plant.equipment}
    rooms = {room.id: room.name for room in plant.rooms}
    return Spots(every, _groups(every, machines, lambda s: s.machine), _groups(every, rooms, lambda s: s.room))


def _site(site: Site) -> Spot:
    return Spot(site.code, site.name, site.room, site.equipment)


def _groups(every: tuple[Spot, ...], names: dict[str, str], of: Callable[[Spot], str | None]) -> tuple[Group, ...]:
    members = {name: tuple(at for at, spot in enumerate(every) if of(spot) == name) for name in names}
    return tuple(Group(name, names[name], members[name]) for name in sorted(names) if members[name])
