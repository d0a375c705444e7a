"""Cleanings: from a sheet, or one full cleaning after the last shift as a default."""

import re
from collections.abc import Mapping, Sequence
from datetime import time
from typing import Literal, cast

from swabwright.plant.imports.context import Context
from swabwright.plant.imports.hours import period, read_time
from swabwright.plant.imports.names import make_id
from swabwright.plant.imports.schedule import days_of
from swabwright.plant.lines import Cleaning, Line
from swabwright.plant.rooms import Room
from swabwright.plant.times import Period, Weekday
from swabwright.tables.table import Row

KINDS: dict[str, Literal["full", "rinse", "dry"]] = {"full": "full", "rinse": "rinse", "dry_clean": "dry"}
EVERYTHING = ("all", "all rooms", "whole plant", "everything", "all lines", "every room", "plant")
LIST = re.compile(r"\s*(?:;|,|\n| and )\s*")


def make_cleanings(context: Context, rooms: Sequence[Room], lines: Sequence[Line]) -> tuple[Cleaning, ...]:
    """Every cleaning of the sheet; without a sheet, the default one of all rooms and lines."""
    cleanings: list[Cleaning] = []
    for row in context.rows("cleaning"):
        identifier = make_id(row.text("name"), [each.id for each in cleanings], "cleaning")
        cleanings.append(_cleaning(row, identifier, context, (rooms, lines)))
    return tuple(cleanings) or (_default(context, rooms, lines),)


def _cleaning(row: Row, identifier: str, context: Context, given: tuple[Sequence[Room], Sequence[Line]]) -> Cleaning:
    path = f"cleanings[{identifier}]"
    rooms = _listed(row, "rooms", {room.id: room.name for room in given[0]}, context)
    lines = _listed(row, "lines", {line.id: line.name for line in given[1]}, context)
    # A cleaning of nothing would leave the plant as if it were never cleaned.
    if not rooms and not lines:
        rooms = tuple(room.id for room in given[0])
        context.notes.assume(f"{path}.rooms", f"{row.where} names nothing that is cleaned; every room taken")
    return Cleaning(
        id=identifier,
        name=row.text("name"),
        kind=_kind(row, path, context),
        rooms=rooms,
        lines=lines,
        when=(_when(row, path, context),),
        chemistry=_chemistry(row, path, context),
        strength_ppm=_strength(row, path, context),
        rinsed=_rinsed(row, path, context),
    )


def _listed(row: Row, field: str, names: Mapping[str, str], context: Context) -> tuple[str, ...]:
    text = row.text(field)
    if text.casefold() in EVERYTHING:
        return tuple(names)
    found: list[str] = []
    for word in LIST.split(text) if text else ():
        match = context.find(word, names, field.removesuffix("s"))
        if match is None:
            context.notes.put_aside(f"{row.where}, {field}", word, "nothing of this name is drawn or listed")
        elif match not in found:
            found.append(match)
    return tuple(found)


def _kind(row: Row, path: str, context: Context) -> Literal["full", "rinse", "dry"]:
    said = context.words.means(row.text("kind") or row.text("name"), *KINDS)
    if said is None:
        context.notes.assume(f"{path}.kind", "nobody has said what kind of cleaning it is; taken as a full one")
    return KINDS[said or "full"]


def _when(row: Row, path: str, context: Context) -> Period:
    starts, ends = read_time(row.cells.get("starts_at")), read_time(row.cells.get("ends_at"))
    usual = [time.fromisoformat(clock) for clock in context.words.data["hours"]["cleaning"]]
    if starts is None or ends is None:
        context.notes.assume(
            f"{path}.when", f"{row.where} has no start and end; {context.words.data['hours']['source']}"
        )
    return period(days_of(row, context, f"{path}.when"), starts or usual[0], ends or usual[1])


def _chemistry(row: Row, path: str, context: Context) -> str:
    text = row.text("chemistry")
    found = context.words.chemistry(text) if text else None
    if found is None:
        said = f"'{text}' is no known disinfectant" if text else "no disinfectant is named"
        context.notes.assume(f"{path}.chemistry", f"{said}; its residue counts as unknown")
    return found or "unknown"


def _strength(row: Row, path: str, context: Context) -> float | None:
    strength = context.quantity(row, "strength_ppm", f"{path}.strength_ppm")
    return strength if strength and strength > 0 else None


def _rinsed(row: Row, path: str, context: Context) -> bool:
    said = context.words.means(row.text("rinsed"), "yes", "no") if row.text("rinsed") else None
    if said is None:
        context.notes.assume(f"{path}.rinsed", "nobody has said whether it is rinsed off; taken as not rinsed")
    return said == "yes"


def _default(context: Context, rooms: Sequence[Room], lines: Sequence[Line]) -> Cleaning:
    usual = context.words.data["hours"]
    context.notes.assume("cleanings", f"no sheet of cleaning; one full cleaning of everything, {usual['source']}")
    context.notes.assume(
        "cleanings[full-cleaning].chemistry", "no disinfectant is named; its residue counts as unknown"
    )
    days = cast("tuple[Weekday, ...]", tuple(usual["days"]))
    return Cleaning(
        id="full-cleaning",
        name="Full cleaning (assumed)",
        kind="full",
        rooms=tuple(room.id for room in rooms),
        lines=tuple(line.id for line in lines),
        when=(period(days, *map(time.fromisoformat, usual["cleaning"])),),
        chemistry="unknown",
        rinsed=False,
    )
