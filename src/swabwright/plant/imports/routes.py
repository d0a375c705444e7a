"""Routes of people and wheels: drawn ways, with trips per hour from a sheet or by kind."""

from typing import Literal, get_args

from shapely.geometry import LineString

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.drains import NAME_REACH_M, joined_ways
from swabwright.plant.imports.labels import name_beside
from swabwright.plant.imports.names import find_name, make_id
from swabwright.plant.lines import Route
from swabwright.tables.table import Row

RouteKind = Literal["people", "trolley", "forklift", "waste"]
KINDS: tuple[RouteKind, ...] = get_args(RouteKind)


def make_routes(context: Context) -> tuple[Route, ...]:
    """Every drawn route; rows of the sheet that no drawn route answers to are put aside."""
    rows = {row.text("route"): row for row in context.rows("routes")}
    routes: list[Route] = []
    answered: set[str] = set()
    for kind in KINDS:
        drawing = context.drawn(f"route_{kind}")
        for number, path in enumerate(joined_ways([each for each in drawing.shapes if not each.closed]), start=1):
            name = name_beside(LineString(path), drawing.labels, NAME_REACH_M) or f"{kind.title()} route {number}"
            found = find_name(name, {each: each for each in rows}, context.words.number("room.least_score"))
            row = rows[found.id] if found else None
            answered |= {found.id} if found else set()
            identifier = make_id(name, [route.id for route in routes], "route")
            trips = _trips(context, identifier, kind, row)
            routes.append(Route(id=identifier, name=name, kind=kind, path=path, trips_per_hour=trips))
    for name in rows.keys() - answered:
        context.notes.put_aside(rows[name].where, name, "no route of this name is drawn")
    if not routes:
        context.notes.assume("routes", "none is drawn; people and wheels then carry nothing from room to room")
    return tuple(routes)


def _trips(context: Context, identifier: str, kind: RouteKind, row: Row | None) -> float:
    path = f"routes[{identifier}].trips_per_hour"
    stated = context.quantity(row, "trips_per_hour", path) if row else None
    if stated is not None and stated > 0:
        return stated
    usual = context.words.number(f"route.{kind}")
    context.notes.assume(path, f"no sheet of routes says it; {usual:g} an hour taken for {kind}")
    return usual
