"""How far one sees from a point before a wall comes, and how much of a kernel fits into what is seen."""

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

DIRECTIONS = 96
CUT = 3.0
"""Kernels that spread around end at three times their length."""
RING = np.array([(0.0, 0.0)] + [(np.cos(a), np.sin(a)) for a in np.arange(6) * np.pi / 3])
RING_RADIUS = 2.0 / 3.0
"""Where six points around the middle stand for a disc: exact for kernels up to the second degree."""


def open_metres(start: FloatArray, directions: FloatArray, walls: FloatArray) -> FloatArray:
    """Metres from `start` to the first wall in each direction (d, 2); inf where none comes."""
    origin, along = walls[:, 0], walls[:, 1] - walls[:, 0]
    to_wall = origin - start
    cross = directions[:, None, 0] * along[None, :, 1] - directions[:, None, 1] * along[None, :, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        metres = (to_wall[:, 0] * along[:, 1] - to_wall[:, 1] * along[:, 0])[None] / cross
        place = (to_wall[None, :, 0] * directions[:, None, 1] - to_wall[None, :, 1] * directions[:, None, 0]) / cross
    hit = (np.abs(cross) > 0) & (metres > 0) & (place >= 0) & (place <= 1)
    return np.asarray(np.where(hit, metres, np.inf).min(axis=1, initial=np.inf), dtype=np.float64)


def visible(start: FloatArray, ends: FloatArray, walls: FloatArray) -> npt.NDArray[np.bool_]:
    """Whether each of the `ends` (n, 2) is seen from `start` with no wall between."""
    away = ends - start
    metres = np.hypot(away[:, 0], away[:, 1])
    directions = away / np.maximum(metres, 1e-12)[:, None]
    return open_metres(start, directions, walls) >= metres - 1e-9


def kernel_in_sight(start: FloatArray, kernel_m: float, walls: FloatArray) -> float:
    """Integral of exp(-d / kernel) over the floor seen from `start`, up to three kernel lengths, in m2."""
    angles = (np.arange(DIRECTIONS) + 0.5) * 2 * np.pi / DIRECTIONS
    directions = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    reach = np.minimum(open_metres(start, directions, walls), CUT * kernel_m) / kernel_m
    return float(np.mean(1.0 - (1.0 + reach) * np.exp(-reach)) * 2 * np.pi * kernel_m**2)


def kernel_on_discs(start: FloatArray, middles: FloatArray, areas_m2: FloatArray, kernel_m: float) -> FloatArray:
    """Integral of exp(-d / kernel), cut at three lengths, over discs of these areas around these middles, in m2."""
    radii = np.sqrt(areas_m2 / np.pi) * RING_RADIUS
    points = middles[:, None, :] + RING[None] * radii[:, None, None]
    metres = np.hypot(*(points - start).transpose(2, 0, 1))
    values = np.where(metres <= CUT * kernel_m, np.exp(-metres / kernel_m), 0.0)
    weights = np.array([0.25] + [0.125] * 6)
    return np.asarray((values @ weights) * areas_m2, dtype=np.float64)
