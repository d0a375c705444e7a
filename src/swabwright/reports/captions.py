"""Numbers beside the marks, names of rooms and fixtures, and the start: each where it covers least."""

from collections.abc import Sequence

from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from swabwright.plant.document import Plant
from swabwright.reports.fonts import text_width
from swabwright.reports.frame import Dot, Frame
from swabwright.reports.picture import label_svg
from swabwright.reports.placing import Label, Paper, around, disc, inside
from swabwright.reports.strokes import along
from swabwright.reports.views import Stop

NUMBER_MM, ZONE_MM, ROOM_MM, SMALL_MM = 3.1, 2.1, 3.1, 2.35
NUMBER_GAP_MM = 0.4
BASE_MM = 1.0
TOO_COSTLY = 0.9
"""A name that would cover more than this is left off: the walk sheet says it."""


def number_svg(stop: Stop, paper: Paper) -> str:
    """The order of work and the zone beside a mark."""
    number, zone = str(stop.sample.order), f"Z{stop.mark.zone}" if stop.mark.zone else ""
    # the number is the large word; the zone follows it small, so that nobody reads '16' and 'Z2' as one number
    ahead = text_width(number, NUMBER_MM, 600) + NUMBER_GAP_MM
    size = (ahead + text_width(zone, ZONE_MM), NUMBER_MM * 0.78)
    label, _ = paper.best(around(stop.shown, stop.mark.radius_mm(), size, stop.mark.stick_mm()))
    paper.texts.append(label.box)
    x, y = label.middle
    beside = Label((x + ahead / 2, y + (NUMBER_MM - ZONE_MM) * 0.34), label.width - ahead, label.height)
    return label_svg(zone, beside, ZONE_MM, 400) + label_svg(number, label, NUMBER_MM)


def base_svg(at: Dot, paper: Paper) -> str:
    """The clean base where the walk begins: a solid disc with its word."""
    size = (text_width("start", SMALL_MM, 600), SMALL_MM)
    label, _ = paper.best(around(at, BASE_MM, size))
    paper.texts += [label.box, disc(at, BASE_MM)]
    dot = f'<circle cx="{at[0]:.2f}" cy="{at[1]:.2f}" r="{BASE_MM}" fill="#000" stroke="#fff" stroke-width="0.4"/>'
    return dot + label_svg("start", label, SMALL_MM)


def room_name(text: str, area: BaseGeometry, paper: Paper, size: float = ROOM_MM, weight: int = 600) -> str:
    """A name inside its room, smaller in a small one; nothing where it finds no room: the walk sheet says it."""
    for smaller in (size, min(size, SMALL_MM)):
        candidates = list(inside(area, (text_width(text, smaller, weight), smaller * 0.95)))
        if candidates:
            label, _ = paper.best(candidates)
            paper.texts.append(label.box)
            return label_svg(text, label, smaller, weight)
    return ""


def fixture_names(plant: Plant, frame: Frame, rooms: Sequence[str], paper: Paper) -> list[str]:
    """The names of machines, drains and overhead things in some rooms, each only where it covers nothing."""
    things = [(machine.name, machine.outline) for machine in plant.equipment if machine.room in rooms]
    things += [(thing.name, thing.outline) for thing in plant.overhead if thing.room in rooms]
    spots = [(name, _on_or_by(Polygon(frame.points(outline)), name)) for name, outline in things]
    spots += [(drain.name, _along_pipe(frame.points(drain.path), drain.name)) for drain in plant.drains]
    found = []
    for name, candidates in spots:
        label, cost = paper.best(candidates)
        if cost < TOO_COSTLY:
            paper.texts.append(label.box)
            found.append(label_svg(name, label, SMALL_MM, 400))
    return found


def _along_pipe(path: Sequence[Dot], name: str) -> list[Label]:
    width, lift = text_width(name, SMALL_MM), SMALL_MM * 0.85
    points = [at for at, _ in along(path, 6.0, 3.0)] or [path[0]]
    return [Label((x, y + side * lift), width, SMALL_MM) for x, y in points for side in (-1, 1)]


def _on_or_by(outline: Polygon, name: str) -> list[Label]:
    size = (text_width(name, SMALL_MM), SMALL_MM)
    left, top, right, bottom = outline.bounds
    x, half = (left + right) / 2, SMALL_MM * 0.75
    # a name wider than its machine would break the outline, so it stands above or below
    rows = [top - half, bottom + half + 0.5]
    if size[0] < right - left - 0.6:
        rows = [(top + bottom) / 2, top + half, bottom - half, *rows]
    return [Label((x, y), *size) for y in rows]
