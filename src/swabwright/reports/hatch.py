"""Hatching at 45 degrees, clipped to a shape."""

from math import ceil, floor, sqrt

import numpy as np
import shapely
from shapely import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry


def hatched(area: BaseGeometry, pitch_mm: float) -> BaseGeometry:
    """Parallel lines rising to the right inside `area`, `pitch_mm` apart, on a grid fixed to the page."""
    pieces = [piece for part in shapely.get_parts(area) if part.area for piece in _clipped(part, pitch_mm)]
    return MultiLineString([piece for piece in pieces if isinstance(piece, LineString) and not piece.is_empty])


def _clipped(part: BaseGeometry, pitch_mm: float) -> list[BaseGeometry]:
    """The pieces of the lines within one part; each line is cut alone, which stays exact where many meet."""
    left, top, right, bottom = part.bounds
    # the pitch is measured across the lines, the step along the edge
    step = pitch_mm * sqrt(2)
    at = np.arange(ceil((left + top) / step), floor((right + bottom) / step) + 1) * step
    ends = np.stack(
        [np.stack([at - bottom, np.full_like(at, bottom)], 1), np.stack([at - top, np.full_like(at, top)], 1)], 1
    )
    return list(shapely.get_parts(shapely.intersection(shapely.linestrings(ends), part)))
