"""The walk against the clock: a tick a sample, the rooms above, bars at the barriers, hatched what is left."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from itertools import groupby

from shapely import box

from swabwright.case.plan import Plan, PlannedSample
from swabwright.plant.document import Plant
from swabwright.reports.fonts import text_width
from swabwright.reports.frame import outlines
from swabwright.reports.hatch import hatched
from swabwright.reports.picture import picture, text_svg
from swabwright.reports.stops import with_rooms
from swabwright.reports.tokens import HAIR_MM

HEIGHT_MM, LINE_MM, AXIS_MM, EDGE_MM = 20.6, 11.2, 16.2, 4.0
NAME_MM, RANGE_MM = 2.6, 2.4
ROWS_MM = (7.9, 4.9, 1.9)
HALF_HOUR = timedelta(minutes=30)


class _Clock:
    """Where a moment lies on the strip."""

    def __init__(self, width_mm: float, starts_at: datetime, ends_at: datetime) -> None:
        self.width_mm, self.starts_at, self.ends_at = width_mm, starts_at, ends_at
        self._span = max((ends_at - starts_at).total_seconds(), 60.0)

    def x(self, moment: datetime) -> float:
        """Millimetres from the left edge."""
        share = (moment - self.starts_at).total_seconds() / self._span
        return EDGE_MM + (self.width_mm - 2 * EDGE_MM) * share


def clock_svg(plan: Plan, plant: Plant, width_mm: float, ends_at: datetime) -> str:
    """The clock strip of a plan, from the walk's start to the later of its end and the visit's."""
    clock = _Clock(width_mm, plan.walk.starts_at, max(ends_at, plan.walk.ends_at))
    samples = sorted(plan.samples, key=lambda sample: sample.order)
    names = {room.id: room.name for room in plant.rooms}
    layers = [_spine(plan, clock), *(_tick(sample, clock) for sample in samples), *_barriers(plan, clock, samples)]
    layers += [_rooms(samples, clock, names), _axis(clock)]
    return picture(layers, (width_mm, HEIGHT_MM))


def _spine(plan: Plan, clock: _Clock) -> str:
    start, done, end = clock.x(clock.starts_at), clock.x(plan.walk.ends_at), clock.x(clock.ends_at)
    left = box(done, LINE_MM - 1.1, max(end, done + 0.01), LINE_MM + 1.1)
    rest = (
        f'<path d="{outlines(hatched(left, 0.9))}{outlines(left)}" fill="none" stroke="#000" stroke-width="{HAIR_MM}"/>'
    )
    line = f'<path d="M{start:.2f} {LINE_MM}H{done:.2f}" stroke="#000" stroke-width="0.4"/>'
    return line + (rest if end - done > 0.5 else "")


def _tick(sample: PlannedSample, clock: _Clock) -> str:
    return f'<path d="M{clock.x(sample.arrive_at):.2f} {LINE_MM - 1.1}v2.2" stroke="#000" stroke-width="{HAIR_MM}"/>'


def _barriers(plan: Plan, clock: _Clock, samples: Sequence[PlannedSample]) -> list[str]:
    arrive = {sample.order: sample.arrive_at for sample in samples}
    crossed = [arrive[leg.to_order] for leg in plan.walk.legs if leg.barriers and leg.to_order in arrive]
    return [
        f'<path d="M{clock.x(at) - 0.9:.2f} {LINE_MM - 1.6}v3.2" stroke="#000" stroke-width="1.1"/>' for at in crossed
    ]


def _rooms(samples: Sequence[PlannedSample], clock: _Clock, names: dict[str, str]) -> str:
    """Each room's name over its samples, as low as it fits, and their order numbers under the line."""
    parts: list[str] = []
    rows_end = [-10.0] * len(ROWS_MM)
    range_end = -10.0
    for room, run in groupby(with_rooms(samples), key=lambda pair: pair[1]):
        stops = [sample for sample, _ in run]
        middle = (clock.x(stops[0].arrive_at) + clock.x(stops[-1].arrive_at)) / 2
        half = text_width(names.get(room, room), NAME_MM, 600) / 2 + 0.6
        x = min(max(middle, half), clock.width_mm - half)
        # the lowest row that has room; where none has, the order numbers under the line still tell
        row = next((i for i, end in enumerate(rows_end) if x - half > end), None)
        if row is not None:
            rows_end[row] = x + half
            stem, name = _room_name(names.get(room, room), (x, middle), row)
            parts.insert(0, stem)
            parts.append(name)
        span = str(stops[0].order) if len(stops) == 1 else f"{stops[0].order}\u2013{stops[-1].order}"
        wide = text_width(span, RANGE_MM) / 2 + 0.3
        if middle - wide > range_end:
            range_end = middle + wide
            parts.append(text_svg(span, (middle, LINE_MM + 2.7), RANGE_MM, anchor="middle"))
    return "".join(parts)


def _room_name(name: str, at: tuple[float, float], row: int) -> tuple[str, str]:
    """The hairline that ties a name to its samples, and the name."""
    x, middle = at
    stem = f"M{middle:.2f} {ROWS_MM[row] + NAME_MM / 2:.2f}V{LINE_MM - 1.6:.2f}"
    tied = f'<path d="{stem}" stroke="#000" stroke-width="{HAIR_MM}"/>' if row else ""
    return tied, text_svg(name, (x, ROWS_MM[row]), NAME_MM, weight=600, anchor="middle", halo=True)


def _axis(clock: _Clock) -> str:
    start, end = clock.x(clock.starts_at), clock.x(clock.ends_at)
    parts = [f'<path d="M{start:.2f} {AXIS_MM}H{end:.2f}" stroke="#000" stroke-width="{HAIR_MM}"/>']
    moment = clock.starts_at
    moment += timedelta(minutes=-moment.minute % 30)
    # a long walk names fewer hours rather than smaller ones
    step = HALF_HOUR * max(1, round((clock.ends_at - clock.starts_at) / HALF_HOUR / 12))
    while moment <= clock.ends_at:
        x = clock.x(moment)
        parts.append(f'<path d="M{x:.2f} {AXIS_MM - 0.9}v1.8" stroke="#000" stroke-width="{HAIR_MM}"/>')
        parts.append(text_svg(moment.strftime("%H:%M"), (x, AXIS_MM + 2.7), RANGE_MM, anchor="middle"))
        moment += step
    return "".join(parts)
