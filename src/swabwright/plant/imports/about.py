"""What stands in no sheet: the plant's name and its time zone."""

from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from swabwright.errors import SwabwrightError
from swabwright.plant.imports.context import Context

USUAL_ZONE = "UTC"


def find_plant_name(context: Context) -> str:
    """The name the mapping gives, else the drawing's file name, unconfirmed."""
    if context.mapping.plant.name:
        return context.mapping.plant.name
    name = context.drawing.name.rpartition(".")[0] or context.drawing.name
    context.notes.assume("name", f"nobody has said the plant's name; taken from the drawing's file name, '{name}'")
    return name


def find_timezone(context: Context) -> str:
    """The time zone the mapping gives, else UTC, unconfirmed; raises SwabwrightError for one that is none."""
    zone = context.mapping.plant.timezone
    if zone is None:
        context.notes.assume("timezone", f"nobody has said the plant's time zone; {USUAL_ZONE} taken")
        return USUAL_ZONE
    try:
        ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError):
        raise SwabwrightError(f"mapping, plant.timezone: no time zone '{zone}'; write one as Europe/Dublin") from None
    return zone
