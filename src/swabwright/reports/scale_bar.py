"""A bar that says how long the metres are on this paper."""

from swabwright.reports.frame import Frame
from swabwright.reports.tokens import HAIR_MM

SCALE_BAR_MM = 4.6
"""Height of the strip under the plan that the bar stands in."""
LENGTHS_M = (1, 2, 5, 10, 20, 50, 100, 200)
LONGEST_MM = 42.0
PARTS = 4
TEXT_MM = 2.4
HIGH_MM = 0.9


def scale_bar(frame: Frame) -> str:
    """The longest round bar that stays short, alternately solid and open, under the plan."""
    # round lengths only, so that a pair of dividers can step them off
    metres = max((m for m in LENGTHS_M if m * frame.mm_per_m <= LONGEST_MM), default=LENGTHS_M[0])
    part = metres * frame.mm_per_m / PARTS
    left, top = frame.margin_mm, frame.height_mm + 2.6
    bars = "".join(
        f'<path d="M{left + i * part:.2f} {top}h{part:.2f}v{HIGH_MM}h-{part:.2f}z" '
        f'fill="{"#fff" if i % 2 else "#000"}" stroke="#000" stroke-width="{HAIR_MM}"/>'
        for i in range(PARTS)
    )
    ends = f'<text x="{left + PARTS * part + 1.2:.2f}" y="{top + HIGH_MM:.2f}" font-size="{TEXT_MM}">{metres} m</text>'
    return bars + ends
