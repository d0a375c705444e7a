"""Hatching at 45 degrees, clipped to a shape."""

from math import ceil, floor, sqrt

from shapely import MultiLineString
from shapely.geometry.base import BaseGeometry


def hatched(area: BaseGeometry, pitch_mm: float) -> BaseGeometry:
    """Parallel lines rising to the right inside `area`, `pitch_mm` apart, on a grid fixed to the page."""
    if area.is_empty:
        return area
    parts = getattr(area, "geoms", [area])
    lines = [line for part in parts for line in _lines(part, pitch_mm)]
    return MultiLineString(lines).intersection(area) if lines else MultiLineString()


def _lines(part: BaseGeometry, pitch_mm: float) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    left, top, right, bottom = part.bounds
    step = pitch_mm * sqrt(2)
    first, last = ceil((left + top) / step), floor((right + bottom) / step)
    return [((k * step - bottom, bottom), (k * step - top, top)) for k in range(first, last + 1)]
