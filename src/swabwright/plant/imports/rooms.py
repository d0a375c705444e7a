"""Rooms: outlines and names from the drawing, class and climate from a sheet or from the room's name."""

from shapely.geometry import Polygon

from swabwright.plant.imports.codes import code_of
from swabwright.plant.imports.context import Context
from swabwright.plant.imports.drawing import Label
from swabwright.plant.imports.labels import name_inside, tag_labels
from swabwright.plant.imports.names import make_id
from swabwright.plant.imports.outlines import closed_outlines, ring_of, spot
from swabwright.plant.imports.vocabulary import RoomWords
from swabwright.plant.rooms import Room, Wetness
from swabwright.tables.table import Row

NOBODY = "no sheet of rooms says it; taken from the room's name"


def make_rooms(context: Context) -> tuple[Room, ...]:
    """Every closed outline on the layer of the rooms, as a room."""
    outlines = closed_outlines(context.drawn("rooms"), context.words.number("drawing.gap_m"), "room", context.notes)
    names = _names(context, outlines)
    rows = _rows_by_room(context, dict(names))
    pairs = zip(outlines, names, strict=True)
    return tuple(_room(context, outline, name, rows.get(name[0])) for outline, name in pairs)


def _names(context: Context, outlines: list[Polygon]) -> list[tuple[str, str]]:
    """(id, name) of each room; one without a text inside is numbered and listed."""
    labels = _labels(context)
    names: list[tuple[str, str]] = []
    for number, outline in enumerate(outlines, start=1):
        name = name_inside(outline, labels)
        identifier = make_id(name or f"room-{number}", [known for known, _ in names], "room")
        if name is None:
            where = spot(outline.representative_point().coords[0])
            context.notes.assume(f"rooms[{identifier}].name", f"no text stands in the room at {where}")
        names.append((identifier, name or f"Room {number}"))
    return names


def _labels(context: Context) -> list[Label]:
    """Texts that may name a room, those of room tags (symbols with attributes) too; a site's code names none."""
    codes = {code_of(row).casefold() for row in context.rows("sites")}
    drawn = (context.drawn("rooms"), context.drawn("room_names"))
    labels = [label for drawing in drawn for label in (*drawing.labels, *tag_labels(drawing.blocks))]
    return [label for label in labels if label.text.replace(" ", "-").casefold() not in codes]


def _rows_by_room(context: Context, names: dict[str, str]) -> dict[str, Row]:
    rows: dict[str, Row] = {}
    for row in context.rows("rooms"):
        found = context.find(row.text("room"), names, "room")
        # A list of rooms covers the whole site; the drawing often shows one floor of it.
        if found is None:
            context.notes.put_aside(row.where, row.text("room"), "no room of this name in the drawing")
        elif found in rows:
            context.notes.fault(
                row.where, f"room '{row.text('room')}' stands in row {rows[found].number} too; keep one"
            )
        else:
            rows[found] = row
    return rows


def _room(context: Context, outline: Polygon, name: tuple[str, str], row: Row | None) -> Room:
    words = context.words.room_words(name[1])
    return Room(
        id=name[0],
        name=name[1],
        outline=ring_of(outline),
        hygiene_class=_hygiene_class(context, name[0], words, row),
        exposed_product=_yes_or_no(context, name[0], row, ("exposed_product", words.exposed_product)),
        wetness=_wetness(context, name[0], words, row),
        temperature_c=_temperature(context, name[0], words, row),
        no_electrical_devices=bool(
            row and context.words.means(row.text("no_electrical_devices"), "yes", "no") == "yes"
        ),
    )


def _hygiene_class(context: Context, room: str, words: RoomWords, row: Row | None) -> int:
    path = f"rooms[{room}].hygiene_class"
    stated = context.quantity(row, "hygiene_class", path) if row else None
    if stated is None:
        context.notes.assume(path, f"{NOBODY} ({words.hygiene_class})")
        return words.hygiene_class
    if not (stated.is_integer() and 1 <= stated <= 9):
        context.notes.fault(row.where if row else path, f"hygiene class {stated:g} is none of 1 (cleanest) to 9")
        return words.hygiene_class
    return int(stated)


def _yes_or_no(context: Context, room: str, row: Row | None, default: tuple[str, bool]) -> bool:
    field, usual = default
    text = row.text(field) if row else ""
    said = context.words.means(text, "yes", "no") if text else None
    if text and said is None and row:
        context.notes.fault(row.where, f"{field.replace('_', ' ')}: '{text}' is neither yes nor no")
    if said is None:
        context.notes.assume(f"rooms[{room}].{field}", f"{NOBODY} ({'yes' if usual else 'no'})")
        return usual
    return said == "yes"


def _wetness(context: Context, room: str, words: RoomWords, row: Row | None) -> Wetness:
    text = row.text("wetness") if row else ""
    said = context.words.means(text, "wet", "damp", "dry") if text else None
    if text and said is None and row:
        context.notes.fault(row.where, f"wetness: '{text}' is none of wet, damp, dry")
    if said is None:
        context.notes.assume(f"rooms[{room}].wetness", f"{NOBODY} ({words.wetness})")
    return as_wetness(said or words.wetness)


def as_wetness(word: str) -> Wetness:
    """One of the three words for how wet a thing is."""
    return "wet" if word == "wet" else "damp" if word == "damp" else "dry"


def _temperature(context: Context, room: str, words: RoomWords, row: Row | None) -> float:
    path = f"rooms[{room}].temperature_c"
    stated = context.quantity(row, "temperature_c", path) if row else None
    if stated is None:
        usual = context.words.number(f"temperature.{words.temperature}")
        context.notes.assume(path, f"{NOBODY} ({usual:g} °C)")
        return usual
    if not -60 <= stated <= 80:
        context.notes.fault(row.where if row else path, f"{stated:g} °C is no temperature of a room")
        return 0.0
    return round(stated, 2)
