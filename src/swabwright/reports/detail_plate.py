"""The detail plate: where most dots stand close together, the same dots enlarged."""

from collections.abc import Sequence

from shapely import Polygon, box

from swabwright.case.plan import Believed, Stipple
from swabwright.plant.document import Plant
from swabwright.reports.footprints import floor, is_drawn
from swabwright.reports.frame import Dot, Frame

DENSE_SHARE = 0.5
"""The dense part holds the likeliest places that together have so much of the dots that are drawn."""
ROUND_IT_M = 1.3
SMALL_SHARE = 0.6
"""A dense part wider or higher than this share of the plant needs no plate."""
LEAST_ENLARGED = 1.4


def detail_window(plant: Plant, believed: Sequence[Believed], stipple: Stipple, aspect: float) -> Polygon | None:
    """The part of the floor (metres) that a plate of this aspect (width by height) shows; None if none is needed."""
    dense = _dense(believed, stipple)
    if not dense:
        return None
    left, low, right, high = _around(dense)
    whole_left, whole_low, whole_right, whole_high = floor(plant).bounds
    width, height = right - left, high - low
    if width > SMALL_SHARE * (whole_right - whole_left) or height > SMALL_SHARE * (whole_high - whole_low):
        return None
    wide, tall = max(width, height * aspect), max(height, width / aspect)
    if wide * LEAST_ENLARGED > (whole_right - whole_left):
        return None
    x = _within((left + right - wide) / 2, wide, whole_left, whole_right)
    y = _within((low + high - tall) / 2, tall, whole_low, whole_high)
    return box(x, y, x + wide, y + tall)


def plate_frame(window: Polygon, width_mm: float) -> Frame:
    """The frame of a plate that shows the window over the whole width."""
    left, low, right, high = window.bounds
    scale = width_mm / (right - left)
    return Frame(left, high, scale, width_mm, (high - low) * scale, 0.0)


def _dense(believed: Sequence[Believed], stipple: Stipple) -> list[Dot]:
    """The dots of the likeliest drawn places until they hold half of what is drawn."""
    drawn = [place for place in believed if is_drawn(place.place) and place.dots]
    runs, start = [], 0
    for place in drawn:
        runs.append(stipple.dots[start : start + place.dots])
        start += place.dots
    dense: list[Dot] = []
    for run in sorted(runs, key=len, reverse=True):
        if len(dense) >= DENSE_SHARE * start:
            break
        dense += run
    return dense


def _around(dots: Sequence[Dot]) -> tuple[float, float, float, float]:
    across, up = zip(*dots, strict=True)
    return min(across) - ROUND_IT_M, min(up) - ROUND_IT_M, max(across) + ROUND_IT_M, max(up) + ROUND_IT_M


def _within(low: float, span: float, least: float, most: float) -> float:
    """The start of a span moved so that it stays between two bounds where it can."""
    return max(least, min(low, most - span))
