"""The plan of the plant as one picture: rooms, walk, marks with their order of work, and the stipple."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely import LineString, MultiLineString, Point, Polygon, box
from shapely.ops import unary_union

from swabwright.case.plan import Plan, Stipple
from swabwright.plant.document import Plant
from swabwright.reports.captions import ROOM_MM, SMALL_MM, base_svg, fixture_names, number_svg, room_name
from swabwright.reports.clear_dots import clear_dots
from swabwright.reports.fixtures import fixtures_svg
from swabwright.reports.frame import Dot, Frame, d
from swabwright.reports.marks import mark_svg
from swabwright.reports.picture import picture
from swabwright.reports.placing import Paper, disc
from swabwright.reports.scale_bar import SCALE_BAR_MM, scale_bar
from swabwright.reports.shell import openings, rooms_on_paper, shell_svg, walls
from swabwright.reports.tokens import DOT_DETAIL_MM, DOT_FLOOR_MM, DOT_MM, DOT_OF_SPACING, HAIR_MM, MM_PER_PX
from swabwright.reports.views import Stop, View, enlarged_rooms, orders_by_room, whole_plant
from swabwright.reports.walk_line import walk_path, walk_svg
from swabwright.reports.wording import ranges

LEADER_MM = 1.5
"""A mark moved farther than this from its site is tied to it by a hairline."""
PLUS_SCALE = 0.85
PLUS_MM = 0.8


@dataclass(frozen=True)
class Drawing:
    """A finished picture: SVG, width and height in millimetres, its scale, and its words for who cannot see it."""

    svg: str
    width_mm: float
    height_mm: float
    mm_per_m: float
    alt: str
    title: str = ""


def plan_drawings(plan: Plan, plant: Plant, room_mm: Dot, page_mm: Dot) -> list[Drawing]:
    """The whole plant as large as fits into `room_mm`; if that is too crowded for its marks, then each room alone."""
    whole = whole_plant(plan, plant, (room_mm[0], room_mm[1] - SCALE_BAR_MM))
    drawings = [_drawn(plan, plant, whole, "")]
    if whole.is_overview:
        views = enlarged_rooms(plan, plant, (page_mm[0], page_mm[1] - SCALE_BAR_MM))
        drawings += [_drawn(plan, plant, view, view.rooms[0].name) for view in views]
    return drawings


def _drawn(plan: Plan, plant: Plant, view: View, title: str) -> Drawing:
    frame, rooms = view.frame, [room.id for room in view.rooms]
    path = walk_path(plan.walk.legs, frame, {stop.sample.order: stop.shown for stop in view.stops})
    paper = _paper(plant, view, path)
    numbers = [number_svg(stop, paper) for stop in view.stops]
    # numbers have been placed; names take what is left, and dots keep clear of both
    names = [base_svg(frame.point(plant.base), paper), *_room_names(plan, view, paper)]
    names += fixture_names(plant, frame, rooms, paper)
    layers = [
        fixtures_svg(plant, frame), shell_svg(plant, frame), _dots(plan, plant, view, paper),
        _not_chosen(plan, plant, frame, paper), walk_svg(path, openings(plant, frame)), *names,
        *(_leader(stop) for stop in view.stops), *(mark_svg(stop.mark, stop.shown) for stop in view.stops), *numbers,
    ]  # fmt: skip
    size = frame.width_mm, frame.height_mm + SCALE_BAR_MM
    layers = [_clipped(layers, frame), scale_bar(frame)]
    return Drawing(picture(layers, size), *size, frame.mm_per_m, _alt(plan, plant, title), title)


def _clipped(layers: Sequence[str], frame: Frame) -> str:
    window = f'<clipPath id="window"><path d="M0 0H{frame.width_mm:.2f}V{frame.height_mm:.2f}H0Z"/></clipPath>'
    return f'{window}<g clip-path="url(#window)">{"".join(layers)}</g>'


def _paper(plant: Plant, view: View, path: Sequence[Dot]) -> Paper:
    frame = view.frame
    window = box(0, 0, frame.width_mm, frame.height_mm)
    segments = [LineString(pair) for pair in pairwise(path) if pair[0] != pair[1]]
    marks = [disc(stop.shown, stop.mark.radius_mm(), stop.mark.stick_mm()) for stop in view.stops]
    outlines = [Polygon(frame.points(machine.outline)).exterior for machine in plant.equipment]
    outlines += [Polygon(frame.points(thing.outline)).exterior for thing in plant.overhead]
    seen = MultiLineString([segment for segment in segments if segment.intersects(window)])
    return Paper(window, seen, marks, walls(plant, frame), unary_union(outlines))


def _room_names(plan: Plan, view: View, paper: Paper) -> list[str]:
    orders, names = orders_by_room(plan.samples), []
    for room in view.rooms:
        area = view.frame.shape(Polygon(room.outline))
        names.append(room_name(room.name, area, paper, ROOM_MM))
        if view.is_overview and room.id in orders:
            names.append(room_name(f"samples {ranges(orders[room.id])}", area, paper, SMALL_MM, 400))
    return names


def _leader(stop: Stop) -> str:
    moved = LineString([stop.home, stop.shown])
    if moved.length <= LEADER_MM:
        return ""
    end = f'<circle cx="{stop.home[0]:.2f}" cy="{stop.home[1]:.2f}" r="0.45" fill="#000"/>'
    return f'<path d="{d([stop.home, stop.shown])}" stroke="#000" stroke-width="{HAIR_MM}" fill="none"/>{end}'


def _not_chosen(plan: Plan, plant: Plant, frame: Frame, paper: Paper) -> str:
    """A plus sign at every site that is not in the plan, left off where a mark or a word stands."""
    chosen = {sample.site_key for sample in plan.samples}
    size, signs = MM_PER_PX * PLUS_SCALE, []
    for site in plant.sites:
        x, y = frame.point(site.position)
        area = box(x - PLUS_MM, y - PLUS_MM, x + PLUS_MM, y + PLUS_MM)
        if site.key not in chosen and not any(shape.intersects(area) for shape in (*paper.marks, *paper.texts)):
            signs.append(f'<use href="#not-chosen" transform="translate({x:.2f} {y:.2f}) scale({size:.4f})"/>')
    return f'<g id="not-chosen-sites" stroke="#000" stroke-width="{HAIR_MM / size:.2f}">{"".join(signs)}</g>'


def dot_mm(plan: Plan, mm_per_m: float, largest_mm: float = DOT_MM) -> float:
    """The diameter of a dot of a plan on paper."""
    return dots_mm(plan.stipple, mm_per_m, largest_mm)


def dots_mm(stipple: Stipple, mm_per_m: float, largest_mm: float = DOT_MM) -> float:
    """The diameter of a dot on paper: as large as the spacing lets it be, within floor and ceiling."""
    return min(max(stipple.spacing_m * mm_per_m * DOT_OF_SPACING, DOT_FLOOR_MM), largest_mm)


def _dots(plan: Plan, plant: Plant, view: View, paper: Paper) -> str:
    frame = view.frame
    whole = len(view.rooms) == len(plant.rooms)
    rooms = [rooms_on_paper(plant, frame)[room.id] for room in view.rooms]
    diameter = dot_mm(plan, frame.mm_per_m, DOT_MM if whole else DOT_DETAIL_MM)
    dots = frame.points(plan.stipple.dots)
    if not whole:
        # a plate shows the dots of its own rooms, the very same ones, larger
        dots = [dot for dot in dots if view.area.covers(Point(dot))]
    at = clear_dots(dots, [*paper.marks, *paper.texts], rooms, plan.stipple.spacing_m * frame.mm_per_m)
    circles = "".join(f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{diameter / 2:.3f}"/>' for x, y in at)
    return f'<g id="stipple" fill="#000">{circles}</g>'


def _alt(plan: Plan, plant: Plant, title: str) -> str:
    if title:
        return f"{title} enlarged, with the walk and the samples in it. The walk sheet lists the same samples."
    return (
        f"Plan of {plant.name}: {len(plant.rooms)} rooms, the walk of {len(plan.samples)} samples in order of "
        f"work, and {len(plan.stipple.dots)} of 1,000 dots where it may live. The walk sheet lists the same samples."
    )
