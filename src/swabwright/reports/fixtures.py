"""What stands in the rooms: equipment, lines with their product's way, drains, things overhead."""

from math import atan2

from shapely import LineString, Polygon
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from swabwright.plant.document import Plant
from swabwright.plant.rooms import Drain
from swabwright.reports.frame import Dot, Frame, d, outlines
from swabwright.reports.hatch import hatched
from swabwright.reports.strokes import along, arrowhead, behind, chevron
from swabwright.reports.tokens import HAIR_MM

MACHINE_MM = 0.32
SHADOW_MM = 0.55
SHADOW_HATCH_MM = 0.75
BELT_M = 0.75
CHEVRON_EVERY_MM = 4.2
DRAIN_MM = 0.36
DRAIN_ARROW_MM = 16.0
GRATE_MM = 1.7
INFEED_MM = 0.55


def fixtures_svg(plant: Plant, frame: Frame) -> str:
    """Drains, equipment, belts and overhead things as SVG, in this order from the floor up."""
    machines = {machine.id: Polygon(frame.points(machine.outline)) for machine in plant.equipment}
    parts = [_drain(drain, frame) for drain in plant.drains]
    parts += [_grate(frame.point(site.position)) for site in plant.sites if site.drain]
    solid = unary_union(list(machines.values()))
    parts += [_belt(frame.points(line.path), solid, frame) for line in plant.lines]
    parts += [_machine(outline) for outline in machines.values()]
    parts += [_overhead(Polygon(frame.points(thing.outline))) for thing in plant.overhead]
    return f'<g id="fixtures" fill="none" stroke="#000">{"".join(parts)}</g>'


def _machine(outline: Polygon) -> str:
    shadow = translate(outline, SHADOW_MM, SHADOW_MM).difference(outline)
    return (
        f'<path d="{outlines(outline)}" fill="#fff" stroke-width="{MACHINE_MM}"/>'
        f'<path d="{outlines(hatched(shadow, SHADOW_HATCH_MM))}" stroke-width="{HAIR_MM}"/>'
    )


def _overhead(outline: Polygon) -> str:
    return f'<path d="{outlines(outline)}" stroke-width="{MACHINE_MM}" stroke-dasharray="1.2 0.7"/>'


def _belt(path: list[Dot], machines: BaseGeometry, frame: Frame) -> str:
    """The belt outside the machines as two hairlines, chevrons the way the product goes, an arrow at the infeed."""
    wide = BELT_M * frame.mm_per_m / 2
    belt = LineString(path).buffer(wide, cap_style="flat", join_style="mitre").difference(machines)
    marks = "".join(
        chevron(at, angle, 0.8, 0.8)
        for at, angle in along(path, CHEVRON_EVERY_MM, CHEVRON_EVERY_MM / 2)
        if belt.contains(LineString([at, behind(at, angle, 1.2)]))
    )
    return f'<path d="{outlines(belt)}" fill="#fff" stroke-width="{HAIR_MM}"/>{marks}{_infeed(path)}'


def _infeed(path: list[Dot]) -> str:
    start, following = path[0], path[1]
    angle = atan2(following[1] - start[1], following[0] - start[0])
    shaft = d([behind(start, angle, 3.6), start])
    return f'<path d="{shaft}" stroke-width="{INFEED_MM}"/>{chevron(start, angle, 1.0, 1.3, INFEED_MM)}'


def _drain(drain: Drain, frame: Frame) -> str:
    """A dashed pipe run, with arrowheads where somebody has said which way it flows."""
    path = frame.points(drain.path)
    ordered = path[::-1] if drain.flow == "against" else path
    heads = "" if drain.flow == "unknown" else "".join(
        arrowhead(at, angle, 0.75, 1.9) for at, angle in along(ordered, DRAIN_ARROW_MM, DRAIN_ARROW_MM / 2)
    )  # fmt: skip
    return f'<path d="{d(path)}" stroke-width="{DRAIN_MM}" stroke-dasharray="1.7 0.9"/>{heads}'


def _grate(at: Dot) -> str:
    half = GRATE_MM / 2
    x, y = at
    bars = "".join(f"M{x + shift:.2f} {y - half:.2f}v{GRATE_MM}" for shift in (-0.45, 0.0, 0.45))
    frame = f"M{x - half:.2f} {y - half:.2f}h{GRATE_MM}v{GRATE_MM}h-{GRATE_MM}z"
    return f'<path d="{frame}{bars}" fill="#fff" stroke-width="{HAIR_MM}"/>'
