"""A plan of the plant with dots, links, marks, numbers and badges: one picture for findings of every kind."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from shapely import LineString, MultiLineString, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from swabwright.case.plan import Stipple
from swabwright.plant.document import Plant
from swabwright.reports.captions import ROOM_MM, fixture_names, room_name
from swabwright.reports.clear_dots import clear_dots
from swabwright.reports.drawing import LEADER_MM, Drawing, dots_mm
from swabwright.reports.fixtures import fixtures_svg
from swabwright.reports.frame import Dot, Frame, d, outlines
from swabwright.reports.link_lines import link_lines, link_numbers
from swabwright.reports.marks import mark_svg
from swabwright.reports.picture import picture
from swabwright.reports.placing import Label, Paper, around, disc
from swabwright.reports.scale_bar import SCALE_BAR_MM, scale_bar
from swabwright.reports.shell import rooms_on_paper, shell_svg, walls
from swabwright.reports.spot_numbers import spot_number
from swabwright.reports.spots import Badge, Link, Shown, Spot, shown
from swabwright.reports.tokens import DOT_DETAIL_MM, DOT_MM, HAIR_MM, MARK_SCALE

RING_MM = 0.7
WINDOW_MM = 0.5


@dataclass(frozen=True)
class Scene:
    """Everything that lies on the drawing of a plant."""

    plant: Plant
    spots: tuple[Spot, ...] = ()
    stipple: Stipple | None = None
    links: tuple[Link, ...] = ()
    badges: tuple[Badge, ...] = ()
    rings: tuple[BaseGeometry, ...] = ()
    """Outlines in metres, drawn heavy."""
    alt: str = ""


def scene_drawing(scene: Scene, frame: Frame, *, window: Polygon | None = None, is_plate: bool = False) -> Drawing:
    """The scene in a frame; `window` (metres) is framed by a line: the part that a plate shows enlarged."""
    stops = shown([_enlarged(spot) for spot in scene.spots] if is_plate else scene.spots, frame)
    paper = _paper(scene, frame, stops, window)
    # what says most is placed first and finds the best position
    numbers = [spot_number(stop, paper) for stop in stops if stop.spot.number and _is_inside(stop.at, frame)]
    badges = [_badge(badge, frame, paper) for badge in scene.badges if _is_inside(frame.point(badge.at), frame)]
    names = _names(scene.plant, frame, paper)
    layers = [
        fixtures_svg(scene.plant, frame), shell_svg(scene.plant, frame), _dots(scene, frame, paper, is_plate),
        _window(window, frame), *names, _rings(scene, frame), link_lines(scene.links, stops),
        *(_leader(stop) for stop in stops),
        *(mark_svg(stop.spot.mark, stop.at, stop.spot.scale) for stop in _by_weight(stops)),
        link_numbers(scene.links, stops), *numbers, *badges,
    ]  # fmt: skip
    size = frame.width_mm, frame.height_mm + SCALE_BAR_MM
    clip = f'<clipPath id="window"><path d="M0 0H{frame.width_mm:.2f}V{frame.height_mm:.2f}H0Z"/></clipPath>'
    if is_plate:
        edge = f'<path d="M0 0H{frame.width_mm:.2f}V{frame.height_mm:.2f}H0Z" fill="none" stroke="#000"'
        layers.append(f'{edge} stroke-width="{WINDOW_MM}"/>')
    drawn = [f'{clip}<g clip-path="url(#window)">{"".join(layers)}</g>', scale_bar(frame)]
    return Drawing(picture(drawn, size), *size, frame.mm_per_m, scene.alt)


def _enlarged(spot: Spot) -> Spot:
    return replace(spot, scale=spot.scale / MARK_SCALE)


def _is_inside(at: Dot, frame: Frame) -> bool:
    return 0 <= at[0] <= frame.width_mm and 0 <= at[1] <= frame.height_mm


def _by_weight(stops: Sequence[Shown]) -> list[Shown]:
    """Marks that matter lie on top: larger ones last."""
    return sorted(stops, key=lambda stop: (stop.spot.scale, stop.spot.mark.fill == "detected"))


def _paper(scene: Scene, frame: Frame, stops: Sequence[Shown], window: Polygon | None) -> Paper:
    edge = box(0, 0, frame.width_mm, frame.height_mm)
    ends = [(stops[link.first].at, stops[link.second].at) for link in scene.links]
    if window is not None:
        ends += list(pairwise(frame.points([(x, y) for x, y in window.exterior.coords])))
    lines = MultiLineString([LineString(pair) for pair in ends if pair[0] != pair[1]])
    marks = [disc(stop.at, stop.radius_mm, stop.stick_mm) for stop in stops]
    shapes = [machine.outline for machine in scene.plant.equipment]
    shapes += [thing.outline for thing in scene.plant.overhead]
    fixtures = unary_union([Polygon(frame.points(outline)).exterior for outline in shapes])
    return Paper(edge, lines, marks, walls(scene.plant, frame), fixtures)


def _names(plant: Plant, frame: Frame, paper: Paper) -> list[str]:
    edge = box(0, 0, frame.width_mm, frame.height_mm)
    names = []
    for room in plant.rooms:
        # a plate may show a part of a room only: its name stands in that part
        area = Polygon(frame.points(room.outline)).intersection(edge)
        if not area.is_empty:
            names.append(room_name(room.name, area, paper, ROOM_MM))
    return names + fixture_names(plant, frame, [room.id for room in plant.rooms], paper)


def _badge(badge: Badge, frame: Frame, paper: Paper) -> str:
    home = frame.point(badge.at)
    spots = [Label(home, *badge.size)] if badge.stays else around(home, badge.keeps_off_mm, badge.size)
    label, _ = paper.best(spots)
    paper.texts.append(label.box)
    return f'<g transform="translate({label.middle[0]:.2f} {label.middle[1]:.2f})">{badge.svg}</g>'


def _leader(stop: Shown) -> str:
    moved = LineString([stop.home, stop.at])
    if moved.length <= LEADER_MM:
        return ""
    end = f'<circle cx="{stop.home[0]:.2f}" cy="{stop.home[1]:.2f}" r="0.45" fill="#000"/>'
    return f'<path d="{d([stop.home, stop.at])}" stroke="#000" stroke-width="{HAIR_MM}" fill="none"/>{end}'


def _dots(scene: Scene, frame: Frame, paper: Paper, is_plate: bool) -> str:
    if scene.stipple is None:
        return ""
    edge = box(0, 0, frame.width_mm, frame.height_mm)
    rooms = [room.intersection(edge) for room in rooms_on_paper(scene.plant, frame).values()]
    inside = [dot for dot in frame.points(scene.stipple.dots) if _is_inside(dot, frame)]
    spacing = scene.stipple.spacing_m * frame.mm_per_m
    diameter = dots_mm(scene.stipple, frame.mm_per_m, DOT_DETAIL_MM if is_plate else DOT_MM)
    drawn = [room for room in rooms if not room.is_empty]
    at = clear_dots(inside, [*paper.marks, *paper.texts], drawn, spacing)
    circles = "".join(f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{diameter / 2:.3f}"/>' for x, y in at)
    return f'<g id="stipple" fill="#000">{circles}</g>'


def _rings(scene: Scene, frame: Frame) -> str:
    paths = (f'<path d="{outlines(frame.shape(ring))}"/>' for ring in scene.rings)
    return f'<g fill="none" stroke="#000" stroke-width="{RING_MM}">{"".join(paths)}</g>' if scene.rings else ""


def _window(window: Polygon | None, frame: Frame) -> str:
    if window is None:
        return ""
    edge = f'<path d="{outlines(frame.shape(window))}" fill="none" stroke="#fff" stroke-width="{3 * WINDOW_MM}"/>'
    return edge + f'<path d="{outlines(frame.shape(window))}" fill="none" stroke="#000" stroke-width="{WINDOW_MM}"/>'
