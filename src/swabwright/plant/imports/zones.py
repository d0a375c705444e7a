"""Hygiene zones: as the plant's list has them, else from the site type and the room."""

import re

from swabwright.plant.catalogue import SiteType
from swabwright.plant.imports.codes import code_of
from swabwright.plant.imports.context import Context
from swabwright.plant.imports.surroundings import Surroundings
from swabwright.tables.table import Row

ZONE = re.compile(r"^(?:hygiene\s*)?(?:zone|z)?\s*[-:]?\s*([1-4])$", re.IGNORECASE)
ROMAN = {"i": 1, "ii": 2, "iii": 3, "iv": 4}
REMOTE = 4


def zone_of(row: Row, kind: SiteType, place: tuple[str, Surroundings], context: Context) -> int:
    """The zone a row states ('2', 'Z2', 'Zone II'); without one the usual zone of its type, unconfirmed."""
    text = row.text("zone")
    if text:
        zone = read_zone(text)
        if zone is None:
            context.notes.fault(row.where, f"zone '{text}' is none of 1, 2, 3, 4")
        return zone or REMOTE
    zone = _usual_zone(kind, place)
    context.notes.assume(f"sites[{code_of(row)}].zone", f"the list names no zone; {zone} is usual for {kind.name}")
    return zone


def read_zone(text: str) -> int | None:
    """The zone number in a text, or None."""
    match = ZONE.match(text.strip())
    if match:
        return int(match.group(1))
    word = re.sub(r"^(?:hygiene\s*)?(?:zone|z)\s*", "", text.strip().casefold())
    return ROMAN.get(word)


def _usual_zone(kind: SiteType, place: tuple[str, Surroundings]) -> int:
    """The first zone of the type; in a room without open food a zone 3 site is zone 4."""
    room_id, around = place
    exposed = next(room.exposed_product for room in around.rooms if room.id == room_id)
    # The catalogue names the usual zone first.
    zone = kind.zones[0]
    return REMOTE if zone == REMOTE - 1 and not exposed else zone
