"""What cautions and kit are read from: the timed walk in its plant, and which hazards its sites meet."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from shapely.geometry import LineString, Polygon

from swabwright.case.investigation import Visit
from swabwright.planning.walk import TimedStop
from swabwright.planning.walk_stops import WalkStop
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.figures import Figures
from swabwright.plant.registry import data_files

ROOMS_NAMED = 6
NO_RESIDUE = ("none", "steam")


@dataclass(frozen=True)
class Scene:
    """A timed walk in its plant, as cautions and kit see it."""

    timed: tuple[TimedStop, ...]
    plant: Plant
    catalogue: Catalogue
    visit: Visit

    @property
    def figures(self) -> Figures:
        """The figures in use."""
        return self.catalogue.figures

    @property
    def stops(self) -> tuple[WalkStop, ...]:
        """The stops in order of work."""
        return tuple(one.stop for one in self.timed)

    def forklift_rooms(self) -> frozenset[str]:
        """Rooms that a forklift route touches."""
        ways = [LineString(route.path) for route in self.plant.routes if route.kind == "forklift"]
        floors = {room.id: Polygon(room.outline) for room in self.plant.rooms}
        return frozenset(name for name, floor in floors.items() if any(floor.intersects(way) for way in ways))


def meets(hazard: str, scene: Scene) -> tuple[WalkStop, ...]:
    """The stops that meet a hazard of cautions.toml, in order of work; blanks touch nothing and meet none."""
    entry = data_files()["cautions.toml"]["hazards"][hazard]
    kinds, rule = entry.get("site_types", ()), RULES.get(entry.get("rule", ""))
    return tuple(
        stop
        for stop in scene.stops
        if stop.kind != "blank" and (stop.at.type.id in kinds or (rule is not None and rule(stop, scene)))
    )


def codes(stops: Sequence[WalkStop]) -> tuple[str, ...]:
    """The sites of these stops, each once, in order of work."""
    return tuple(dict.fromkeys(stop.code for stop in stops))


def rooms_of(stops: Sequence[WalkStop]) -> str:
    """The names of the rooms of these stops, for a sentence; of many the first few."""
    names = list(dict.fromkeys(stop.room.name for stop in stops))
    more = f" and {len(names) - ROOMS_NAMED} more" if len(names) > ROOMS_NAMED else ""
    return ", ".join(names[:ROOMS_NAMED]) + more


Rule = Callable[[WalkStop, Scene], bool]


def _arranged(stop: WalkStop, _: Scene) -> bool:
    return stop.halt.needs_line_stop or stop.halt.mechanic


def _moving(stop: WalkStop, _: Scene) -> bool:
    return stop.at.type.holder == "equipment" and stop.mode == "as_is" and not stop.halt.needs_isolation


def _height(stop: WalkStop, scene: Scene) -> bool:
    return stop.at.site.height_m >= scene.figures.number("caution.height_m") or stop.at.type.holder == "overhead"


def _forklift(stop: WalkStop, scene: Scene) -> bool:
    return stop.room.id in scene.forklift_rooms()


def _evaporator(stop: WalkStop, scene: Scene) -> bool:
    evaporators = {one.id for one in scene.plant.overhead if one.kind == "evaporator"}
    return stop.at.site.overhead in evaporators


def _disinfected(stop: WalkStop, scene: Scene) -> bool:
    return any(
        stop.room.id in cleaning.rooms and cleaning.chemistry not in NO_RESIDUE for cleaning in scene.plant.cleanings
    )


def _cold(stop: WalkStop, scene: Scene) -> bool:
    return stop.room.temperature_c < scene.figures.number("rule.cold_room_below_c")


def _deep_freeze(stop: WalkStop, scene: Scene) -> bool:
    return stop.room.temperature_c <= scene.figures.number("caution.deep_freeze_c")


RULES: dict[str, Rule] = {
    "any": lambda stop, scene: True,
    "isolation": lambda stop, scene: stop.halt.needs_isolation,
    "line_stop": lambda stop, scene: stop.halt.needs_line_stop,
    "mechanic": lambda stop, scene: stop.halt.mechanic or stop.mode == "opened",
    "reclean": lambda stop, scene: stop.halt.reclean_before_restart,
    "arranged": _arranged,
    "moving": _moving,
    "height": _height,
    "forklift": _forklift,
    "evaporator": _evaporator,
    "disinfected": _disinfected,
    "wet_floor": lambda stop, scene: stop.room.wetness == "wet",
    "cold": _cold,
    "deep_freeze": _deep_freeze,
    "dry_room": lambda stop, scene: stop.room.wetness == "dry",
    "no_electrical_devices": lambda stop, scene: stop.room.no_electrical_devices,
    "drain": lambda stop, scene: stop.drain,
    "lone": lambda stop, scene: scene.visit.limits.people_per_team == 1,
}
"""The rules that cautions.toml can name."""
