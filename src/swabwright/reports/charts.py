"""The small pictures of the first page: the curve, the ten by ten, the sample boxes."""

from collections.abc import Sequence
from hashlib import sha256
from itertools import pairwise

from shapely import Polygon, box

from swabwright.case.plan import CurvePoint, Plan
from swabwright.case.words import out_of_100
from swabwright.reports.dots_words import few
from swabwright.reports.frame import Dot, d, outlines
from swabwright.reports.hatch import hatched
from swabwright.reports.picture import picture, text_svg
from swabwright.reports.scatter import own_dots
from swabwright.reports.tokens import DOT_MM, HAIR_MM

CURVE_MM = (98.0, 38.0)
PLOT = box(7.5, 3.5, 70.0, 33.0)
TEXT_MM = 2.5
STEP_MM = 5.5
GAIN_ROOM_MM, GAIN_ABOVE = 6.5, 0.25
KNOT_MM, OWN_KNOT_MM = 0.65, 1.0
OURS_MM, BOUND_MM = 0.7, 0.32
SAMPLE_DOTS = (5, 50, 200)
BOX_MM = (19.0, 10.5)


def curve_svg(curve: Sequence[CurvePoint], chosen: int) -> str:
    """What each extra ten samples buys: heavy ours, dashed the best any plan could do, hatched how far off."""
    most = max([point.samples for point in curve] + [chosen, 1])
    # no sample finds nothing, whether the curve says so or not
    ours = [_plot(0, 0.0, most), *(_plot(point.samples, point.chance.value, most) for point in curve)]
    band = [_plot(p.samples, p.chance.high, most) for p in curve] + [
        _plot(p.samples, p.chance.low, most) for p in reversed(curve)
    ]
    best = [_plot(p.samples, p.best_any_plan, most) for p in curve if p.best_any_plan is not None]
    named = _spaced(curve, most, chosen)
    hatch = hatched(Polygon(band).buffer(0), 1.6) if len(curve) > 1 else Polygon()
    layers = [
        _axes(most), f'<path d="{outlines(hatch)}" fill="none" stroke="#000" stroke-width="{HAIR_MM}"/>',
        f'<path d="{d(best)}" fill="none" stroke="#000" stroke-width="{BOUND_MM}" stroke-dasharray="1.1 0.8"/>',
        f'<path d="{d(ours)}" fill="none" stroke="#000" stroke-width="{OURS_MM}" stroke-linejoin="round"/>',
        *(_step(point, most, chosen) for point in named), *_gains(named, most), _curve_words(),
    ]  # fmt: skip
    return picture(layers, CURVE_MM)


def _spaced(curve: Sequence[CurvePoint], most: int, chosen: int) -> list[CurvePoint]:
    """The points that are named: the plan's own, and those far enough from it and from each other."""
    own = [point.samples for point in curve if point.samples == chosen]
    apart = STEP_MM * most / (PLOT.bounds[2] - PLOT.bounds[0])
    named: list[int] = list(own)
    for point in curve:
        if point.samples and all(abs(point.samples - other) >= apart for other in named):
            named.append(point.samples)
    return [point for point in curve if point.samples in named]


def _plot(samples: float, chance: float, most: int) -> Dot:
    left, top, right, bottom = PLOT.bounds
    return left + (right - left) * samples / most, bottom - (bottom - top) * chance


def _axes(most: int) -> str:
    left, top, right, bottom = PLOT.bounds
    lines = [f'<path d="M{left} {y:.2f}H{right}" stroke="#000" stroke-width="0.3"/>' for y in (top, bottom)]
    ticks = [_words(str(value), (left - 1.2, _plot(0, value / 100, most)[1]), anchor="end") for value in (0, 50, 100)]
    return "".join(lines + ticks)


def _step(point: CurvePoint, most: int, chosen: int) -> str:
    x, y = _plot(point.samples, point.chance.value, most)
    bottom, is_ours = PLOT.bounds[3], point.samples == chosen
    weight, fill = (0.6, "#000") if is_ours else (HAIR_MM, "#fff")
    line = f'<path d="M{x:.2f} {y:.2f}V{bottom}" stroke="#000" stroke-width="{weight}"/>'
    radius = OWN_KNOT_MM if is_ours else KNOT_MM
    knot = f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{radius}" fill="{fill}" stroke="#000" stroke-width="{HAIR_MM}"/>'
    bold = 600 if is_ours else 400
    under = _words(str(point.samples), (x, bottom + 2.6), weight=bold, anchor="middle")
    over = _words(out_of_100(point.chance.value), (x, y - 2.1), weight=bold, anchor="middle", halo=True)
    return line + knot + over + under


def _gains(named: Sequence[CurvePoint], most: int) -> list[str]:
    """What lies between two points, in hundredths, under the curve where there is room."""
    said = []
    for first, second in pairwise(named):
        left, right = _plot(first.samples, 0, most)[0], _plot(second.samples, 0, most)[0]
        gain = round(100 * second.chance.value) - round(100 * first.chance.value)
        # under a low curve the words would cross it
        if right - left > GAIN_ROOM_MM and first.chance.value > GAIN_ABOVE:
            said.append(_words(f"+{gain}", ((left + right) / 2, PLOT.bounds[3] - 3.0), anchor="middle", halo=True))
    return said


def _curve_words() -> str:
    left, bottom = PLOT.bounds[2] + 3.0, PLOT.bounds[3]
    said = ("Heavy: this plan.", "Dashed: the best", "any plan could do.", "Hatched: how far", "it could be off.")
    lines = [_words(text, (left, 5.0 + 3.4 * i), weight=600 if i == 0 else 400) for i, text in enumerate(said)]
    return "".join([*lines, _words("samples taken", (left, bottom + 2.6))])


def tens_svg(plan: Plan) -> str:
    """Before and after as two ten by tens with an arrow between them, filled from the bottom left."""
    before, after = plan.not_detected_means.before.value, plan.not_detected_means.after.value
    arrow = '<path d="M18 9H21.4M20 7.4L21.6 9L20 10.6" fill="none" stroke="#000" stroke-width="0.4"/>'
    return picture([_tens(before, 0.9), arrow, _tens(after, 23.4)], (39.4, 18.2))


def _tens(chance: float, left: float) -> str:
    # no chance is nought or certain, and the picture must not say so either
    filled = min(max(round(100 * chance), 1), 99)
    return "".join(
        f'<circle cx="{left + 1.66 * (i % 10):.2f}" cy="{16.6 - 1.66 * (i // 10):.2f}" r="0.55" '
        f'fill="{"#000" if i < filled else "#fff"}" stroke="#000" stroke-width="0.3"/>'
        for i in range(100)
    )


def boxes_svg(not_drawn: int, dot_mm: float) -> str:
    """Three sample boxes of 5, 50 and 200 dots, and the dashed box of what is not on the drawing."""
    boxes = [_box(count, i, f"1 in {1000 // count}", dot_mm) for i, count in enumerate(SAMPLE_DOTS)]
    return picture([*boxes, _box(not_drawn, 3, f"{few(not_drawn)} not drawn", dot_mm, dashed=True)], (96.0, 15.0))


def _box(count: int, place: int, said: str, dot_mm: float, *, dashed: bool = False) -> str:
    left = 0.2 + place * (BOX_MM[0] + 4.2) + (4.0 if dashed else 0.0)
    area = box(left, 0.2, left + BOX_MM[0], 0.2 + BOX_MM[1])
    key = sha256(f"sample box {count}".encode()).digest()
    # a box with many dots not drawn sets them closer, but still apart
    spacing = min(DOT_MM * 1.1, (BOX_MM[0] * BOX_MM[1] / max(count, 1) / 2) ** 0.5)
    dots = own_dots(area.buffer(-0.7), area.buffer(-0.5), count, spacing, key)
    circles = "".join(f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{dot_mm / 2:.3f}"/>' for x, y in dots)
    style = 'stroke-width="0.4" stroke-dasharray="1.2 0.8"' if dashed else f'stroke-width="{HAIR_MM}"'
    frame = f'<path d="{outlines(area)}" fill="none" stroke="#000" {style}/>'
    return frame + circles + _words(said, (left + BOX_MM[0] / 2, 13.0), anchor="middle", weight=600 if dashed else 400)


def _words(text: str, at: Dot, *, weight: int = 400, anchor: str = "start", halo: bool = False) -> str:
    return text_svg(text, at, TEXT_MM, weight=weight, anchor=anchor, halo=halo)
