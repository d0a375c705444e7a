"""Foot and wheel: what shoes and wheels pick up and put down along a drawn route."""

from collections.abc import Iterator
from dataclasses import dataclass

from swabwright.plant.lines import Route
from swabwright.plant.rooms import Door
from swabwright.spread.drawing import Drawing
from swabwright.spread.places import Place
from swabwright.spread.reach import Reach, Target, same_family
from swabwright.spread.tracks import Track, carried

TRODDEN_HOLDERS = frozenset({"floor", "drain", "mobile"})
MECHANISM_OF = {"people": "foot", "trolley": "wheel", "forklift": "wheel", "waste": "wheel"}
FULL_CHANGE, BOOT_CHANGE = "full_change", "boots"


@dataclass(frozen=True)
class Trail:
    """A route as contamination sees it: rows on it, stretches in rooms, and doors that hold it back."""

    route: Route
    mechanism: str
    track: Track
    kernel_m: float
    rows: tuple[int, ...]
    rooms: tuple[tuple[str, float, float], ...]
    """Room, from metre, to metre."""
    doors: tuple[tuple[float, float], ...]
    """Metre of each door with a change on the way, and the share that passes it."""

    def passing(self, a: float, b: float) -> float:
        """Share of what is carried from metre a to metre b that passes the changes between."""
        share = 1.0
        for metres, passes in self.doors:
            if min(a, b) < metres < max(a, b):
                share *= passes
        return share


def reaches_on_routes(drawing: Drawing) -> Iterator[Reach]:
    """What every site and the rest of every room on a route gives to the others on it, both ways."""
    for route in drawing.plant.routes:
        trail = _trail(drawing, route)
        for row in trail.rows:
            yield _from_row(drawing, trail, row)
        for room in dict.fromkeys(room for room, _, _ in trail.rooms):
            yield _from_rest(drawing, trail, room)


def _trail(drawing: Drawing, route: Route) -> Trail:
    mechanism = MECHANISM_OF[route.kind]
    track = Track(route.path, drawing.number(f"mechanism.{mechanism}.width_m"))
    rows = tuple(row for row, place in drawing.sites() if _is_trodden(drawing, place, track))
    stretches = [(room.id, a, b) for room in drawing.plant.rooms for a, b in track.metres_within(room.outline)]
    return Trail(
        route=route,
        mechanism=mechanism,
        track=track,
        kernel_m=drawing.mechanisms[mechanism].kernel_m,
        rows=rows,
        rooms=tuple(sorted(stretches, key=lambda stretch: stretch[1:])),
        doors=tuple(_changes(drawing, track)),
    )


def _is_trodden(drawing: Drawing, place: Place, track: Track) -> bool:
    half_m = track.width_m / 2 + drawing.number("mechanism.foot.margin_m")
    return place.holder in TRODDEN_HOLDERS and track.metres_aside(place.position) <= half_m


def _changes(drawing: Drawing, track: Track) -> Iterator[tuple[float, float]]:
    for door in drawing.plant.doors:
        if door.barrier != "none" and track.metres_aside(door.at) <= door.width_m:
            yield track.metres_to(door.at), _passes(drawing, door)


def _passes(drawing: Drawing, door: Door) -> float:
    return drawing.number(f"barrier.{door.barrier}.passes")


def _from_row(drawing: Drawing, trail: Trail, row: int) -> Reach:
    place = drawing.places[row]
    here = trail.track.metres_to(place.position)
    others = [to for to in trail.rows if not same_family(place, drawing.places[to])]
    return _reach(drawing, trail, row, _shares(drawing, trail, [here], others), 1.0)


def _from_rest(drawing: Drawing, trail: Trail, room: str) -> Reach:
    """The rest of a room: starts spread over its stretch of the route; only the trodden part of its floor counts."""
    row = drawing.rest_row[room]
    stretches = [(a, b) for name, a, b in trail.rooms if name == room]
    starts = [a + (b - a) * part for a, b in stretches for part in (0.1, 0.3, 0.5, 0.7, 0.9)]
    trodden_m2 = sum(b - a for a, b in stretches) * trail.track.width_m
    factor = min(1.0, trodden_m2 / drawing.places[row].area_m2)
    return _reach(drawing, trail, row, _shares(drawing, trail, starts, list(trail.rows)), factor)


def _reach(drawing: Drawing, trail: Trail, row: int, shares: dict[int, float], factor: float) -> Reach:
    place, name = drawing.places[row], trail.route.name
    trips = trail.route.trips_per_hour / drawing.number("mechanism.foot.reference_trips_per_h")
    word = "shoes" if trail.mechanism == "foot" else "wheels"
    targets = tuple(
        Target(to, share, f"{word} on the way '{name}' tread on {place.label} and then on it")
        for to, share in shares.items()
    )
    return Reach(row, trail.mechanism, trail.route.id, f"room:{place.room}", factor * trips, targets)


def _shares(drawing: Drawing, trail: Trail, starts: list[float], rows: list[int]) -> dict[int, float]:
    """Shares of the drawn sites, and of the rest of each room for the trodden floor that nobody drew."""
    shares = dict.fromkeys(rows, 0.0)
    rest = dict.fromkeys((room for room, _, _ in trail.rooms), 0.0)
    for start in starts:
        for room, a, b in trail.rooms:
            rest[room] += _carried_both_ways(trail, start, (a, b)) / len(starts)
        for row in rows:
            place = drawing.places[row]
            stretch = trail.track.stretch(trail.track.metres_to(place.position), place.area_m2)
            shares[row] += _carried_both_ways(trail, start, stretch) / len(starts)
    return _filled(drawing, trail, shares, rest, starts)


def _filled(
    drawing: Drawing, trail: Trail, shares: dict[int, float], rest: dict[str, float], starts: list[float]
) -> dict[int, float]:
    """Put what drawn sites do not take on the rest of each room; what goes nowhere else, on the room it starts in."""
    for row, share in shares.items():
        room = drawing.places[row].room
        if room in rest:
            rest[room] = max(0.0, rest[room] - share)
    whole = {row: share for row, share in shares.items() if share > 0}
    for room, share in rest.items():
        whole[drawing.rest_row[room]] = share
    home = drawing.rest_row[_room_on(trail, starts[0])]
    total = sum(whole.values())
    if total > 1.0:
        return {row: share / total for row, share in whole.items()}
    whole[home] = whole.get(home, 0.0) + 1.0 - total
    return whole


def _room_on(trail: Trail, metres: float) -> str:
    return min(trail.rooms, key=lambda stretch: max(stretch[1] - metres, metres - stretch[2], 0.0))[0]


def _carried_both_ways(trail: Trail, start: float, stretch: tuple[float, float]) -> float:
    """Half of the trips go each way; a change of boots or clothes on the way holds most of it back."""
    first, last = stretch
    ahead = carried(start, stretch, trail.kernel_m)
    behind = carried(-start, (-last, -first), trail.kernel_m)
    return 0.5 * (ahead + behind) * trail.passing(start, (first + last) / 2)
