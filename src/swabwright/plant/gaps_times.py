"""What is missing about hours and chemicals: cleanings, stops, lots."""

from collections.abc import Iterator, Sequence

from shapely import LineString, Polygon

from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.effective import effective_site
from swabwright.plant.gap import Gap, in_a_row
from swabwright.plant.lines import Cleaning, Line

QUATS = ("quat_normal", "quat_floor")


def time_gaps(plant: Plant, catalogue: Catalogue) -> Iterator[Gap]:
    """Everything unsaid about when lines run, stand and are cleaned, and with what."""
    if not plant.lines:
        yield Gap("No line is drawn: there is no product to protect or to follow.", "lines", "Draw the lines.", True)
    for place, line in enumerate(plant.lines):
        yield from _cleaning(f"lines[{place}]", line, plant)
        yield from _stops(f"lines[{place}]", line, plant, catalogue)
    yield from _lots(plant)
    for place, cleaning in enumerate(plant.cleanings):
        yield from _chemistry(f"cleanings[{place}]", cleaning)


def _lots(plant: Plant) -> Iterator[Gap]:
    unnamed = [place for place, line in enumerate(plant.lines) if not line.lots]
    if unnamed:
        yield Gap(
            f"No lot codes are written for {in_a_row([plant.lines[place].name for place in unnamed])}: "
            "the product at stake cannot be named.",
            f"lines[{unnamed[0]}].lots",
            "Add the codes made since the last full clean.",
        )


def _cleaning(path: str, line: Line, plant: Plant) -> Iterator[Gap]:
    on_line = any(line.id in cleaning.lines for cleaning in plant.cleanings)
    rooms = _rooms_of(line, plant)
    in_rooms = bool(rooms) and all(any(room in cleaning.rooms for cleaning in plant.cleanings) for room in rooms)
    if not on_line and not in_rooms:
        yield Gap(
            f"{line.name} has no cleaning times. The plan needs them to choose the hour.",
            f"{path}.id",
            "Add a cleaning that names the line or its rooms.",
            important=True,
        )


def _rooms_of(line: Line, plant: Plant) -> Sequence[str]:
    path = LineString(line.path)
    return [room.id for room in plant.rooms if Polygon(room.outline).intersects(path)]


def _stops(path: str, line: Line, plant: Plant, catalogue: Catalogue) -> Iterator[Gap]:
    if line.breaks or line.agreed_stops:
        return
    # Opening a machine can be left out of a plan; what must stand for a plain sample cannot.
    on_line = (effective_site(site, catalogue) for site in plant.sites if site.line == line.id)
    standing = [each.site.code for each in on_line if each.stop_as_is.needs_line_stop]
    if standing:
        yield Gap(
            f"{line.name} has neither breaks nor agreed stops, but must stand while {in_a_row(standing)} "
            f"{'is' if len(standing) == 1 else 'are'} sampled.",
            f"{path}.agreed_stops",
            "Agree stops with the plant, at least a day before.",
            important=True,
        )


def _chemistry(path: str, cleaning: Cleaning) -> Iterator[Gap]:
    if cleaning.chemistry == "unknown":
        yield Gap(
            f"{cleaning.name}: with which chemical? The container's neutraliser depends on it.",
            f"{path}.chemistry",
            "Ask for chemical and strength, foot mats and drains too.",
            important=True,
        )
    elif cleaning.chemistry in QUATS and cleaning.strength_ppm is None:
        yield Gap(
            f"{cleaning.name}: at which strength? Some broths fail at floor strength.",
            f"{path}.strength_ppm",
            "Ask for the strength in ppm.",
        )
