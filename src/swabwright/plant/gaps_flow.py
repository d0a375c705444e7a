"""What is missing about what moves: drains, routes, air, hands, ways on foot."""

from collections.abc import Iterator

from shapely import LineString
from shapely import Point as Spot

from swabwright.plant.document import Plant
from swabwright.plant.gap import Gap, in_a_row
from swabwright.plant.lines import Route
from swabwright.plant.rooms import Door
from swabwright.plant.space.floor import WALL_M, FloorSpace


def flow_gaps(plant: Plant) -> Iterator[Gap]:
    """Everything unsaid about water, wheels, air, hands and doors."""
    yield from _drains(plant)
    yield from _routes(plant)
    yield from _air(plant)
    yield from _hands(plant)
    yield from _doors(plant)


def _drains(plant: Plant) -> Iterator[Gap]:
    for place, drain in enumerate(plant.drains):
        if drain.flow == "unknown":
            yield Gap(
                f"{drain.name}: which way does it flow? Until that is known, nobody can say what it carries where.",
                f"drains[{place}].flow",
                "Set the flow.",
                important=True,
            )
    closed = [place for place, drain in enumerate(plant.drains) if all(site.drain != drain.id for site in plant.sites)]
    if closed:
        yield Gap(
            f"No site opens into {in_a_row([plant.drains[place].name for place in closed])}: "
            "what runs there cannot be sampled.",
            f"drains[{closed[0]}]",
            "Add a site at each opening, or say to which drain a site belongs.",
            important=True,
        )


def _routes(plant: Plant) -> Iterator[Gap]:
    for place, route in enumerate(plant.routes):
        for door in plant.doors:
            # People change at a barrier and go on; wheels carry their floor with them.
            if route.kind != "people" and door.barrier != "none" and _passes(route, door):
                yield Gap(
                    f"{route.name}: drawn through the barrier at '{door.id}'. Does it stop wheels?",
                    f"routes[{place}].path",
                    "Draw the route to the barrier only, or leave it as it is when wheels go through.",
                    important=True,
                )
    if not plant.routes:
        yield Gap(
            "No route is drawn: neither feet nor wheels carry anything.",
            "routes",
            "Draw the ways of people, trolleys and waste.",
            important=True,
        )


def _passes(route: Route, door: Door) -> bool:
    return bool(LineString(route.path).distance(Spot(door.at)) <= max(door.width_m / 2, WALL_M))


def _air(plant: Plant) -> Iterator[Gap]:
    for place, unit in enumerate(plant.air):
        if unit.blows_towards is None:
            yield Gap(f"{unit.name}: where does it blow?", f"air[{place}].blows_towards", "Set where the air goes.")


def _hands(plant: Plant) -> Iterator[Gap]:
    if not plant.workstations:
        yield Gap(
            "No workstation is described: hands carry nothing from site to site.",
            "workstations",
            "Name, for each pair of hands, the sites it touches.",
        )


def _doors(plant: Plant) -> Iterator[Gap]:
    reachable = FloorSpace(plant).reachable_rooms()
    cut_off = [room.name for room in plant.rooms if room.id not in reachable]
    if cut_off:
        yield Gap(
            f"Nobody can walk from the clean base to {in_a_row(cut_off)}: a door is missing.",
            "doors",
            "Draw the door, or move the clean base.",
            important=True,
        )
