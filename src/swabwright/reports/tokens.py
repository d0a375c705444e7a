"""Sizes of the drawing: one place for every length and weight that is drawn."""

from typing import Final

MM_PER_PX: Final = 25.4 / 96
"""A desk pixel on paper."""

FIRST_RING_PX: Final = 8.4
RING_STEP_PX: Final = 2.9
HALO_PX: Final = 1.8
STICK_BEYOND_PX: Final = 4.6

MARK_SCALE: Final = 0.85
"""Smallest scale at which a mark carries its number on paper."""
RING_MM: Final = 0.35
ZONE_1_RING_MM: Final = 0.62
SHAPE_MM: Final = 0.33
HAIR_MM: Final = 0.3
"""No line on paper is thinner."""

WALL_MM: Final = 1.45
WALK_MM: Final = 0.36
WALK_ACROSS_BARRIER_MM: Final = 1.3
ARROW_EVERY_MM: Final = 13.0
CORNER_MM: Final = 1.8

DOT_MM: Final = 0.45
DOT_FLOOR_MM: Final = 0.35
DOT_DETAIL_MM: Final = 0.7
DOT_OF_SPACING: Final = 0.95
"""Dots never touch: the diameter is at most this share of the smallest spacing."""
SPACING_MM: Final = 0.47
"""Smallest distance of two dots when the whole plant fills the map of the plan."""
MAP_MM: Final = (170.0, 130.0)
"""Largest width and height of the whole plant on the first page."""
DOTS: Final = 1000
