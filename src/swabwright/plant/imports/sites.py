"""Sites: a row of the list, its type, its room and its place."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypedDict

from swabwright.errors import did_you_mean
from swabwright.plant.imports.codes import code_of, drawn_positions, site_rows
from swabwright.plant.imports.context import Context
from swabwright.plant.imports.kinds import kind_of
from swabwright.plant.imports.names import plain_name
from swabwright.plant.imports.placing import place_all
from swabwright.plant.imports.rooms import as_wetness
from swabwright.plant.imports.surroundings import Surroundings
from swabwright.plant.imports.zones import zone_of
from swabwright.plant.model import Point
from swabwright.plant.rooms import Wetness
from swabwright.plant.sites import Site, new_site_key
from swabwright.tables.table import Row

ON_MACHINES = ("equipment", "tool", "hands")
"""Holders of site types that belong to the machine they are drawn on."""


MOST_LETTERS = 400
"""Longest text of a document; a longer cell is cut there, and its row still says the whole."""


@dataclass(frozen=True)
class Draft:
    """A site before it has a place: its row, code, type and what it belongs to."""

    row: Row
    code: str
    type: str
    room: str
    equipment: str | None
    line: str | None
    position: Point | None


def make_sites(context: Context, around: Surroundings, keys: Mapping[str, str]) -> tuple[Site, ...]:
    """Every site of the list; `keys` holds the permanent keys of sites that were imported before, by code."""
    rows = site_rows(context)
    drawn = drawn_positions(context, [code_of(row) for row in rows])
    drafts = [draft for row in rows if (draft := _draft(row, drawn, context, around)) is not None]
    places = place_all(context, around, drafts)
    return tuple(_site(draft, places[draft.code], (context, around), keys) for draft in drafts)


def _draft(row: Row, drawn: Mapping[str, Point], context: Context, around: Surroundings) -> Draft | None:
    kind = kind_of(row, context)
    position = _stated_position(row, context) or drawn.get(code_of(row))
    room = _room_of(row, position, context, around)
    # Both are looked up before either stops the row, so that one run tells all that is wrong with it.
    if kind is None or room is None:
        return None
    equipment = _named(row, "equipment", {each.id: each.name for each in around.equipment}, context)
    if equipment is None and context.catalogue.site_types[kind].holder in ON_MACHINES:
        equipment = _in_its_name(row, room, context, around)
    line = _named(row, "line", {each.id: each.name for each in around.lines}, context)
    return Draft(row, code_of(row), kind, room, equipment, line, position)


def _stated_position(row: Row, context: Context) -> Point | None:
    path = f"sites[{code_of(row)}].position"
    x, y = context.quantity(row, "x_m", path), context.quantity(row, "y_m", path)
    return None if x is None or y is None else (round(x, 3), round(y, 3))


def _room_of(row: Row, position: Point | None, context: Context, around: Surroundings) -> str | None:
    """The room a row names; without one, the room its place lies in. A name that fits no room is a fault."""
    names = {room.id: room.name for room in around.rooms}
    text = row.text("room")
    if text:
        room = context.find(text, names, "room")
        if room is None:
            hint = did_you_mean(text, list(names.values()))
            context.notes.fault(row.where, f"site {code_of(row)}: no room '{text}' in the drawing{hint}")
        return room
    room = around.room_at(position, context.words.number("site.wall_m")) if position else None
    if room is None:
        context.notes.fault(row.where, f"site {code_of(row)} names no room and stands in none; write its room")
    else:
        context.notes.assume(f"sites[{code_of(row)}].room", "the list names no room; taken from where it is drawn")
    return room


def _named(row: Row, field: str, names: Mapping[str, str], context: Context) -> str | None:
    """The machine or line a row names; one that is not known is put aside and listed, the site stays."""
    text = row.text(field)
    if not text:
        return None
    found = context.find(text, names, field)
    if found is None:
        context.notes.put_aside(f"{row.where}, {field}", text, f"no {field} of this name is drawn or listed")
    return found


def _in_its_name(row: Row, room: str, context: Context, around: Surroundings) -> str | None:
    """The machine of the same room whose whole name stands in the site's own name, unconfirmed."""
    name = f" {plain_name(row.text('name'))} "
    for machine in sorted(around.equipment, key=lambda each: -len(each.name)):
        if machine.room == room and f" {plain_name(machine.name)} " in name:
            context.notes.assume(f"sites[{code_of(row)}].equipment", f"'{machine.name}' stands in the site's own name")
            return machine.id
    return None


def _site(draft: Draft, position: Point, given: tuple[Context, Surroundings], keys: Mapping[str, str]) -> Site:
    context, around = given
    row, path = draft.row, f"sites[{draft.code}]"
    kind = context.catalogue.site_types[draft.type]
    return Site(
        key=keys.get(draft.code) or new_site_key(),
        code=draft.code,
        name=(row.text("name") or row.text("kind"))[:MOST_LETTERS],
        type=draft.type,
        room=draft.room,
        position=position,
        height_m=context.quantity(row, "height_m", f"{path}.height_m") or 0.0,
        zone=zone_of(row, kind, (draft.room, around), context),
        area_cm2=_area(row, context, f"{path}.area_cm2"),
        surface=_surface(row, context, f"{path}.surface"),
        wetness=_wetness(row, context),
        spot=row.text("spot")[:MOST_LETTERS] or None,
        note=row.text("note")[:MOST_LETTERS] or None,
        **_belongings(draft, position, context, around),
    )


class Belongings(TypedDict):
    """What a site is part of, by the ids of the document; None where it is part of nothing."""

    equipment: str | None
    line: str | None
    drain: str | None
    overhead: str | None


def _belongings(draft: Draft, position: Point, context: Context, around: Surroundings) -> Belongings:
    """What a site is part of: as its row says, else what its type belongs to and it stands on."""
    holder = context.catalogue.site_types[draft.type].holder
    equipment = draft.equipment
    if equipment is None and holder in ON_MACHINES:
        equipment = around.equipment_at(position)
    return Belongings(
        equipment=equipment,
        line=draft.line or next((each.line for each in around.equipment if each.id == equipment), None),
        drain=_drain(draft.row, position, context, around) if holder == "drain" else None,
        overhead=around.overhead_at(position) if holder == "overhead" else None,
    )


def _drain(row: Row, position: Point, context: Context, around: Surroundings) -> str | None:
    """The drain a row names, else the pipe run that passes here."""
    named = _named(row, "drain", {each.id: each.name for each in around.drains}, context)
    return named or around.drain_at(position, context.words.number("site.drain_m"))


def _area(row: Row, context: Context, path: str) -> float | None:
    area = context.quantity(row, "area_cm2", path)
    if area is not None and area <= 0:
        context.notes.fault(row.where, f"an area of {area:g} cm² is none; write the area or leave the cell empty")
        return None
    return None if area is None else round(area, 2)


def _wetness(row: Row, context: Context) -> Wetness | None:
    """How wet the row says the site is; words that are none of the three are a fault, an empty cell is None."""
    text = row.text("wetness")
    said = context.words.means(text, "wet", "damp", "dry") if text else None
    if text and said is None:
        context.notes.fault(row.where, f"wetness: '{text}' is none of wet, damp, dry")
    return as_wetness(said) if said else None


def _surface(row: Row, context: Context, path: str) -> str | None:
    """The surface a row names; words nobody knows are put aside and the type's own surface stands."""
    text = row.text("surface")
    found = context.words.surface(text) if text else None
    if text and found is None:
        context.notes.put_aside(f"{row.where}, surface", text, "no surface of this name; the site type's is taken")
        context.notes.assume(path, f"'{text}' is no known surface; the site type's own is taken")
    return found
