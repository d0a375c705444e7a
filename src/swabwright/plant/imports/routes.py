"""Routes of people and wheels: drawn ways, with trips per hour from a sheet or by kind."""

from collections.abc import Iterator, Mapping
from typing import Literal, get_args

from shapely.geometry import LineString

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.drains import NAME_REACH_M, ways_drawn
from swabwright.plant.imports.labels import name_beside
from swabwright.plant.imports.names import find_name, make_id
from swabwright.plant.lines import Route
from swabwright.plant.model import Point
from swabwright.tables.table import Row

RouteKind = Literal["people", "trolley", "forklift", "waste"]
KINDS: tuple[RouteKind, ...] = get_args(RouteKind)


def make_routes(context: Context) -> tuple[Route, ...]:
    """Every drawn route; rows of the sheet that no drawn route answers to are put aside."""
    rows = _rows_by_name(context)
    routes: list[Route] = []
    for kind in KINDS:
        for name, path in _drawn(context, kind):
            row = rows.pop(_row_named(name, rows, context), None)
            identifier = make_id(name, [route.id for route in routes], "route")
            trips = _trips(context, identifier, kind, row)
            _check_kind(context, kind, row)
            routes.append(Route(id=identifier, name=name, kind=kind, path=path, trips_per_hour=trips))
    for name, row in rows.items():
        context.notes.put_aside(row.where, name, "no route of this name is drawn")
    if not routes:
        context.notes.assume("routes", "none is drawn; people and wheels then carry nothing from room to room")
    return tuple(routes)


def _rows_by_name(context: Context) -> dict[str, Row]:
    rows: dict[str, Row] = {}
    for row in context.rows("routes"):
        if row.text("route") in rows:
            context.notes.put_aside(row.where, row.text("route"), "stands in the sheet before; the first is taken")
        rows.setdefault(row.text("route"), row)
    return rows


def _drawn(context: Context, kind: RouteKind) -> Iterator[tuple[str, tuple[Point, ...]]]:
    """Name and way of every drawn route of one kind; one without a text beside it is numbered."""
    drawing = context.drawn(f"route_{kind}")
    for number, path in enumerate(ways_drawn(drawing, "route", context), start=1):
        yield name_beside(LineString(path), drawing.labels, NAME_REACH_M) or f"{kind.title()} route {number}", path


def _row_named(name: str, rows: Mapping[str, Row], context: Context) -> str:
    found = find_name(name, {each: each for each in rows}, context.words.number("room.least_score"))
    return found.id if found else ""


def _check_kind(context: Context, kind: RouteKind, row: Row | None) -> None:
    """Note when the sheet gives a route another kind than the layer it is drawn on."""
    said = context.words.means(row.text("kind"), *KINDS) if row and row.text("kind") else None
    if row and said and said != kind:
        context.notes.put_aside(row.where, row.text("kind"), f"the layer it is drawn on says {kind}, which is taken")


def _trips(context: Context, identifier: str, kind: RouteKind, row: Row | None) -> float:
    path = f"routes[{identifier}].trips_per_hour"
    stated = context.quantity(row, "trips_per_hour", path) if row else None
    if stated is not None and stated > 0:
        return stated
    usual = context.words.number(f"route.{kind}")
    context.notes.assume(path, f"no sheet of routes says it; {usual:g} an hour taken for {kind}")
    return usual
