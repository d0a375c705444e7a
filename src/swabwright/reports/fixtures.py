"""What stands in the rooms: equipment, lines with their product's way, drains, things overhead."""

from math import atan2, cos, sin

from shapely import Polygon
from shapely.affinity import translate

from swabwright.plant.document import Plant
from swabwright.plant.rooms import AirUnit, Drain
from swabwright.reports.belts import line_parts
from swabwright.reports.frame import Dot, Frame, d, outlines
from swabwright.reports.hatch import hatched
from swabwright.reports.strokes import along, arrowhead, chevron
from swabwright.reports.tokens import HAIR_MM

MACHINE_MM = 0.32
SHADOW_MM = 0.55
SHADOW_HATCH_MM = 0.75
DRAIN_MM = 0.36
DRAIN_ARROW_MM = 16.0
GRATE_MM = 1.7
AIR_MM = 1.0


def fixtures_svg(plant: Plant, frame: Frame) -> str:
    """Drains, equipment, belts and overhead things as SVG, in this order from the floor up."""
    machines = {machine.id: Polygon(frame.points(machine.outline)) for machine in plant.equipment}
    parts = [_drain(drain, frame) for drain in plant.drains]
    parts += [_grate(frame.point(site.position)) for site in plant.sites if site.drain]
    parts += line_parts(plant, frame)
    parts += [_machine(outline) for outline in machines.values()]
    parts += [_overhead(Polygon(frame.points(thing.outline))) for thing in plant.overhead]
    parts += [_air(unit, frame) for unit in plant.air]
    return f'<g id="fixtures" fill="none" stroke="#000">{"".join(parts)}</g>'


def _machine(outline: Polygon) -> str:
    shadow = translate(outline, SHADOW_MM, SHADOW_MM).difference(outline)
    return (
        f'<path d="{outlines(outline)}" fill="#fff" stroke-width="{MACHINE_MM}"/>'
        f'<path d="{outlines(hatched(shadow, SHADOW_HATCH_MM))}" stroke-width="{HAIR_MM}"/>'
    )


def _overhead(outline: Polygon) -> str:
    return f'<path d="{outlines(outline)}" stroke-width="{MACHINE_MM}" stroke-dasharray="1.2 0.7"/>'


def _drain(drain: Drain, frame: Frame) -> str:
    """A dashed pipe run, with arrowheads where somebody has said which way it flows."""
    path = frame.points(drain.path)
    ordered = path[::-1] if drain.flow == "against" else path
    # an arrowhead is a claim: none is drawn where nobody has said which way the water runs
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


def _air(unit: AirUnit, frame: Frame) -> str:
    """A dashed disc, with two chevrons the way it blows where that is known."""
    x, y = frame.point(unit.at)
    body = f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{AIR_MM}" stroke-width="{MACHINE_MM}" stroke-dasharray="0.8 0.5"/>'
    if unit.blows_towards is None:
        return body
    to = frame.point(unit.blows_towards)
    angle = atan2(to[1] - y, to[0] - x)
    tips = [(x + ahead * cos(angle), y + ahead * sin(angle)) for ahead in (AIR_MM + 1.0, AIR_MM + 1.9)]
    return body + "".join(chevron(tip, angle, 0.8, 0.6) for tip in tips)
