"""The key to the lines and signs of the drawing, each with its words."""

from swabwright.case.plan import Plan
from swabwright.plant.document import Plant
from swabwright.reports.picture import picture
from swabwright.reports.strokes import arrowhead, chevron
from swabwright.reports.tokens import HAIR_MM, WALK_ACROSS_BARRIER_MM, WALK_MM

WIDE_MM, HIGH_MM = 9.0, 3.4
MIDDLE_MM = HIGH_MM / 2


def line_key(plan: Plan, plant: Plant) -> list[tuple[str, str, str]]:
    """File name, SVG and words of every line and sign that is on the drawing."""
    chosen = {sample.site_key for sample in plan.samples}
    barrier, drain, *others = _of_plant(plant)
    rows = [
        ("key-walk.svg", _walk(), "the walk", bool(plan.walk.legs)),
        ("key-across.svg", _across(), "change here", any(leg.barriers for leg in plan.walk.legs)),
        barrier, drain,
        ("key-plus.svg", _plus(), "site not chosen", any(site.key not in chosen for site in plant.sites)),
        *others,
        ("key-start.svg", _start(), "start, the clean base", True),
    ]  # fmt: skip
    return [(name, svg, words) for name, svg, words, shown in rows if shown]


def plant_key(plant: Plant) -> list[tuple[str, str, str]]:
    """File name, SVG and words of the lines and signs that belong to the plant itself."""
    return [(name, svg, words) for name, svg, words, shown in _of_plant(plant) if shown]


def _of_plant(plant: Plant) -> list[tuple[str, str, str, bool]]:
    barrier = any(door.barrier != "none" for door in plant.doors)
    return [
        ("key-barrier.svg", _barrier(), "hygiene barrier", barrier),
        ("key-drain.svg", _drain(), "drain, arrow: its known flow", bool(plant.drains)),
        ("key-product.svg", _product(), "the product's way", bool(plant.lines)),
        ("key-overhead.svg", _overhead(), "above head height", bool(plant.overhead)),
        ("key-air.svg", _air(), "blows this way", bool(plant.air)),
    ]


def _walk() -> str:
    line = f'<path d="M0 {MIDDLE_MM}H{WIDE_MM}" stroke="#000" stroke-width="{WALK_MM}"/>'
    return picture([line, arrowhead((WIDE_MM * 0.6, MIDDLE_MM), 0.0, 0.7, 2.0)], (WIDE_MM, HIGH_MM))


def _across() -> str:
    line = f'<path d="M0 {MIDDLE_MM}H{WIDE_MM}" stroke="#000" stroke-width="{WALK_MM}"/>'
    bar = f'<path d="M{WIDE_MM / 2} 0V{HIGH_MM}" stroke="#000" stroke-width="{WALK_ACROSS_BARRIER_MM}"/>'
    return picture([line, bar], (WIDE_MM, HIGH_MM))


def _barrier() -> str:
    stripes = ((-0.95, HAIR_MM), (0.0, 0.9), (0.95, HAIR_MM))
    lines = [
        f'<path d="M0 {MIDDLE_MM + at:.2f}H{WIDE_MM}" stroke="#000" stroke-width="{weight}"/>' for at, weight in stripes
    ]
    return picture(lines, (WIDE_MM, HIGH_MM))


def _drain() -> str:
    line = f'<path d="M0 {MIDDLE_MM}H{WIDE_MM}" stroke="#000" stroke-width="0.36" stroke-dasharray="1.7 0.9"/>'
    return picture([line, arrowhead((WIDE_MM * 0.6, MIDDLE_MM), 0.0, 0.75, 1.9)], (WIDE_MM, HIGH_MM))


def _plus() -> str:
    sign = f'<path d="M0.9 {MIDDLE_MM}h1.5M1.65 {MIDDLE_MM - 0.75}v1.5" stroke="#000" stroke-width="{HAIR_MM}"/>'
    return picture([sign], (3.3, HIGH_MM))


def _product() -> str:
    tips = "".join(chevron((x, MIDDLE_MM), 0.0, 0.8, 0.8) for x in (1.6, 4.2))
    return picture([f'<g stroke="#000">{tips}</g>'], (5.0, HIGH_MM))


def _overhead() -> str:
    outline = f'<path d="M0.3 0.5H{WIDE_MM - 0.3}V{HIGH_MM - 0.5}H0.3z" fill="none" stroke="#000" stroke-width="0.32"'
    return picture([outline + ' stroke-dasharray="1.2 0.7"/>'], (WIDE_MM, HIGH_MM))


def _air() -> str:
    dashes = 'fill="none" stroke-width="0.32" stroke-dasharray="0.8 0.5"'
    disc = f'<circle cx="1.3" cy="{MIDDLE_MM}" r="1" {dashes}/>'
    tips = "".join(chevron((x, MIDDLE_MM), 0.0, 0.8, 0.6) for x in (3.3, 4.2))
    return picture([f'<g stroke="#000">{disc}{tips}</g>'], (4.6, HIGH_MM))


def _start() -> str:
    return picture([f'<circle cx="1.3" cy="{MIDDLE_MM}" r="1" fill="#000"/>'], (2.6, HIGH_MM))
