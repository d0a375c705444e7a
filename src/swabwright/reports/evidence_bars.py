"""Evidence bars: by how many times a result makes a site more or less likely, on a log scale."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import log

from shapely import box

from swabwright.case.findings import Findings, ResultWeight, Shift
from swabwright.reports.frame import outlines
from swabwright.reports.hatch import hatched
from swabwright.reports.picture import picture
from swabwright.reports.tokens import HAIR_MM

NO_BAR = 1.15
"""Less than so many times as likely is no bar."""
LEAST, MOST = 0.0005, 0.9995
"""Chances are kept within these, so that no bar is endless."""
COLUMNS = 3
HALF_MM, HIGH_MM, BAR_MM = 11.0, 4.2, 2.4
HATCH_MM = 0.75


@dataclass(frozen=True)
class Bar:
    """What one result does to one place: points in 100, and the log of how many times it is as likely."""

    weight: ResultWeight
    shift: Shift
    log_times: float


def columns(found: Findings) -> tuple[str, ...]:
    """Names of the places that the bars speak of: the likeliest three."""
    return tuple(place.name for place in found.places[:COLUMNS])


def bars_of(found: Findings, weight: ResultWeight) -> tuple[Bar | None, ...]:
    """One bar for each of the likeliest places; None where the result moves it too little or nothing is held of it."""
    return tuple(_bar(found, weight, at) for at in range(len(columns(found))))


def _bar(found: Findings, weight: ResultWeight, at: int) -> Bar | None:
    place = found.places[at]
    shift = next((one for one in _shifts(found, weight) if one.place == place.place), None)
    if shift is None:
        return None
    times = log_times(place.niche_here.value, shift.points)
    return Bar(weight, shift, times) if abs(times) >= log(NO_BAR) else None


def _shifts(found: Findings, weight: ResultWeight) -> list[Shift]:
    """Everything the document holds of what a result moves."""
    first = found.places[0]
    leading = Shift(place=first.place, name=first.name, points=weight.leading_points)
    return [*weight.moved, *(shift for shift in (weight.raised, weight.lowered) if shift), leading]


def log_times(chance: float, points: float) -> float:
    """Log of the odds with a result over those without it, from the chance and the points it adds."""
    return _log_odds(chance) - _log_odds(chance - points / 100.0)


def _log_odds(chance: float) -> float:
    kept = min(max(chance, LEAST), MOST)
    return log(kept / (1.0 - kept))


def longest_bar(bars: Sequence[Bar | None]) -> Bar | None:
    """The bar that says most."""
    return max((bar for bar in bars if bar), key=lambda bar: abs(bar.log_times), default=None)


def bar_svg(bar: Bar | None, longest: Bar | None) -> str:
    """A centre line with the bar: right and solid more likely, left and hatched less."""
    middle, top = HALF_MM + 0.3, (HIGH_MM - BAR_MM) / 2
    line = f'<path d="M{middle} 0V{HIGH_MM}" stroke="#000" stroke-width="{HAIR_MM}"/>'
    if bar is None or longest is None:
        return picture([line], (2 * middle, HIGH_MM))
    length = HALF_MM * abs(bar.log_times) / abs(longest.log_times)
    if bar.log_times > 0:
        drawn = f'<path d="M{middle} {top}h{length:.2f}v{BAR_MM}h-{length:.2f}z" fill="#000"/>'
    else:
        area = box(middle - length, top, middle, top + BAR_MM)
        lines = outlines(area) + outlines(hatched(area, HATCH_MM))
        drawn = f'<path d="{lines}" fill="none" stroke="#000" stroke-width="{HAIR_MM}"/>'
    return picture([drawn, line], (2 * middle, HIGH_MM))
