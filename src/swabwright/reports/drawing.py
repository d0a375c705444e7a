"""The plan of the plant as one picture: rooms, walk, marks with their order of work, and the stipple."""

from collections.abc import Sequence
from dataclasses import dataclass

from shapely import LineString, MultiLineString, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from swabwright.case.plan import Plan, PlannedSample
from swabwright.plant.document import Plant
from swabwright.reports.apart import apart
from swabwright.reports.clear_dots import clear_dots
from swabwright.reports.fixtures import fixtures_svg
from swabwright.reports.fonts import FAMILIES, text_width
from swabwright.reports.footprints import floor
from swabwright.reports.frame import Dot, Frame, d, frame_for
from swabwright.reports.marks import Mark, mark_svg, symbols
from swabwright.reports.placing import Label, Paper, around, disc, inside
from swabwright.reports.scale_bar import scale_bar
from swabwright.reports.shell import openings, rooms_on_paper, shell_svg, walls
from swabwright.reports.tokens import DOT_FLOOR_MM, DOT_MM, DOT_OF_SPACING, HAIR_MM, MM_PER_PX
from swabwright.reports.walk_line import walk_path, walk_svg

NUMBER_MM, ZONE_MM, ROOM_MM, MACHINE_MM = 3.1, 2.1, 3.1, 2.35
SCALE_BAR_MM = 4.6
BASE_MM = 1.0
LEADER_MM = 1.5
"""A mark moved farther than this from its site is tied to it by a hairline."""


@dataclass(frozen=True)
class Stop:
    """A sample on the drawing: its mark, where it is, and where it is shown, in millimetres."""

    sample: PlannedSample
    mark: Mark
    home: Dot
    shown: Dot


@dataclass(frozen=True)
class Drawing:
    """A finished picture: SVG, width and height in millimetres, and its words for who cannot see it."""

    svg: str
    width_mm: float
    height_mm: float
    mm_per_m: float
    alt: str


def plan_drawing(plan: Plan, plant: Plant, room_mm: tuple[float, float]) -> Drawing:
    """The drawing of a plan, as large as fits into `room_mm` (width, height)."""
    frame = frame_for(floor(plant), (room_mm[0], room_mm[1] - SCALE_BAR_MM))
    stops = stops_on_paper(plan, plant, frame)
    path = walk_path(plan.walk.legs, frame, {stop.sample.order: stop.shown for stop in stops})
    paper = _paper(plant, frame, stops, path)
    numbers = [(stop, _number(stop, paper)) for stop in stops]
    base = _base(frame.point(plant.base), paper)
    names = [*_room_names(plant, frame, paper), *_machine_names(plant, frame, paper), base]
    dots = _dots(plan, plant, frame, paper)
    layers = [
        _rooms(plant, frame), fixtures_svg(plant, frame), shell_svg(plant, frame), dots,
        _not_chosen(plan, plant, frame, paper), walk_svg(path, openings(plant, frame)), *names,
        *(_leader(stop) for stop in stops), *(mark_svg(stop.mark, stop.shown) for stop in stops),
        *(_number_svg(stop, label) for stop, label in numbers), scale_bar(frame),
    ]  # fmt: skip
    size = frame.width_mm, frame.height_mm + SCALE_BAR_MM
    return Drawing(picture(layers, size), *size, frame.mm_per_m, _alt(plan, plant))


def picture(layers: Sequence[str], size_mm: tuple[float, float]) -> str:
    """Layers as one SVG document of a size in millimetres, in the house's typefaces."""
    width, height = size_mm
    families = ", ".join(f"'{family}'" for family in FAMILIES)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.2f}mm" height="{height:.2f}mm" '
        f'viewBox="0 0 {width:.2f} {height:.2f}" font-family="{families}">'
    )
    return head + symbols() + "".join(layers) + "</svg>"


def text_svg(text: str, label: Label, size: float, weight: int = 600) -> str:
    """A text in its box, with a halo of the ground."""
    escaped = text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    x, y = label.middle[0] - label.width / 2, label.middle[1] + size * 0.34
    place = f'x="{x:.2f}" y="{y:.2f}" font-size="{size}" font-weight="{weight}"'
    halo = 'fill="#fff" stroke="#fff" stroke-width="0.9" stroke-linejoin="round" aria-hidden="true"'
    return f'<text {place} {halo}>{escaped}</text><text {place} fill="#000">{escaped}</text>'


def stops_on_paper(plan: Plan, plant: Plant, frame: Frame) -> tuple[Stop, ...]:
    """Every sample that has a site, its mark moved clear of the others."""
    places = {site.key: site.position for site in plant.sites}
    found = [sample for sample in plan.samples if sample.site_key in places]
    homes = [frame.point(places[sample.site_key]) for sample in found if sample.site_key]
    marks = [Mark(sample.device, sample.zone or 0) for sample in found]
    shown = apart(homes, [mark.radius_mm() for mark in marks])
    return tuple(Stop(*parts) for parts in zip(found, marks, homes, shown, strict=True))


def _paper(plant: Plant, frame: Frame, stops: Sequence[Stop], path: Sequence[Dot]) -> Paper:
    segments = [LineString(pair) for pair in zip(path, path[1:], strict=False) if pair[0] != pair[1]]
    marks = [disc(stop.shown, stop.mark.radius_mm(), stop.mark.stick_mm()) for stop in stops]
    bounds = box(0, 0, frame.width_mm, frame.height_mm)
    outlines = [Polygon(frame.points(thing.outline)).exterior for thing in (*plant.equipment, *plant.overhead)]
    return Paper(bounds, MultiLineString(segments), marks, walls(plant, frame), unary_union(outlines))


def _number(stop: Stop, paper: Paper) -> Label:
    width = text_width(str(stop.sample.order), NUMBER_MM, 600) + text_width(_zone(stop), ZONE_MM, 600) + 0.4
    size = (width, NUMBER_MM * 0.78)
    label, _ = paper.best(around(stop.shown, stop.mark.radius_mm(), size, stop.mark.stick_mm()))
    paper.texts.append(label.box)
    return label


def _zone(stop: Stop) -> str:
    return f"Z{stop.mark.zone}" if stop.mark.zone else ""


def _number_svg(stop: Stop, label: Label) -> str:
    number = str(stop.sample.order)
    shift = text_width(number, NUMBER_MM, 600) + 0.4
    zone = Label((label.middle[0] + shift / 2, label.middle[1]), label.width - shift, label.height)
    lowered = Label((zone.middle[0], label.middle[1] + (NUMBER_MM - ZONE_MM) * 0.34), zone.width, zone.height)
    return text_svg(_zone(stop), lowered, ZONE_MM, 400) + text_svg(number, label, NUMBER_MM)


def _base(at: Dot, paper: Paper) -> str:
    """The clean base where the walk begins: a solid disc with its word."""
    size = (text_width("start", MACHINE_MM, 600), MACHINE_MM)
    label, _ = paper.best(around(at, BASE_MM, size))
    paper.texts += [label.box, disc(at, BASE_MM)]
    dot = f'<circle cx="{at[0]:.2f}" cy="{at[1]:.2f}" r="{BASE_MM}" fill="#000" stroke="#fff" stroke-width="0.4"/>'
    return dot + text_svg("start", label, MACHINE_MM)


def _leader(stop: Stop) -> str:
    moved = LineString([stop.home, stop.shown])
    if moved.length <= LEADER_MM:
        return ""
    end = f'<circle cx="{stop.home[0]:.2f}" cy="{stop.home[1]:.2f}" r="0.45" fill="#000"/>'
    return f'<path d="{d([stop.home, stop.shown])}" stroke="#000" stroke-width="{HAIR_MM}" fill="none"/>{end}'


def _rooms(plant: Plant, frame: Frame) -> str:
    shapes = "".join(f'<path d="{d(frame.points(room.outline), closed=True)}"/>' for room in plant.rooms)
    return f'<g fill="#fff">{shapes}</g>'


def _room_names(plant: Plant, frame: Frame, paper: Paper) -> list[str]:
    return [_name(room.name, rooms, ROOM_MM, paper) for room, rooms in _by_name(plant, frame)]


def _by_name(plant: Plant, frame: Frame) -> list[tuple]:
    rooms = rooms_on_paper(plant, frame)
    return [(room, rooms[room.id]) for room in plant.rooms]


def _name(text: str, area: Polygon, size: float, paper: Paper, weight: int = 600) -> str:
    box_size = (text_width(text, size, weight), size * 0.95)
    candidates = list(inside(area, box_size))
    if not candidates:
        return ""
    label, cost = paper.best(candidates)
    paper.texts.append(label.box)
    return text_svg(text, label, size, weight)


def _machine_names(plant: Plant, frame: Frame, paper: Paper) -> list[str]:
    found = []
    for machine in plant.equipment:
        outline = Polygon(frame.points(machine.outline))
        size = (text_width(machine.name, MACHINE_MM), MACHINE_MM)
        x, y = outline.centroid.x, outline.centroid.y
        half = (outline.bounds[3] - outline.bounds[1]) / 2 + MACHINE_MM
        places = [Label((x, y + shift), *size) for shift in (0.0, -half, half)]
        label, cost = paper.best(places)
        if cost < 0.9:
            paper.texts.append(label.box)
            found.append(text_svg(machine.name, label, MACHINE_MM, 400))
    return found


def _not_chosen(plan: Plan, plant: Plant, frame: Frame, paper: Paper) -> str:
    chosen = {sample.site_key for sample in plan.samples}
    signs = []
    for site in plant.sites:
        x, y = frame.point(site.position)
        area = box(x - 0.8, y - 0.8, x + 0.8, y + 0.8)
        if site.key not in chosen and not any(shape.intersects(area) for shape in (*paper.marks, *paper.texts)):
            signs.append(f'<use href="#not-chosen" transform="translate({x:.2f} {y:.2f}) scale({MM_PER_PX * 0.85:.4f})"/>')
    weight = HAIR_MM / MM_PER_PX / 0.85
    return f'<g id="not-chosen-sites" stroke="#000" stroke-width="{weight:.2f}">{"".join(signs)}</g>'


def _dots(plan: Plan, plant: Plant, frame: Frame, paper: Paper) -> str:
    spacing = plan.stipple.spacing_m * frame.mm_per_m
    diameter = min(max(spacing * DOT_OF_SPACING, DOT_FLOOR_MM), DOT_MM)
    rooms = list(rooms_on_paper(plant, frame).values())
    covered: list[BaseGeometry] = [*paper.marks, *paper.texts]
    at = clear_dots(frame.points(plan.stipple.dots), covered, rooms, spacing)
    circles = "".join(f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{diameter / 2:.3f}"/>' for x, y in at)
    return f'<g id="stipple" fill="#000">{circles}</g>'


def _alt(plan: Plan, plant: Plant) -> str:
    drawn = len(plan.stipple.dots)
    return (
        f"Plan of {plant.name}: {len(plant.rooms)} rooms, the walk of {len(plan.samples)} samples in their order of work, "
        f"and {drawn} of 1,000 dots where it may live. The walk sheet lists the same samples in the same order."
    )
