"""The marks of samples: rings, shape and fill of one sample, in millimetres on paper."""

from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal

from swabwright.plant.registry import load_catalogue
from swabwright.reports.tokens import (
    FIRST_RING_PX,
    HALO_PX,
    MARK_SCALE,
    MM_PER_PX,
    RING_MM,
    RING_STEP_PX,
    SHAPE_MM,
    STICK_BEYOND_PX,
    ZONE_1_RING_MM,
)

Fill = Literal["not-yet-known", "not-detected", "presumptive", "detected", "no-result"]
STICK = "disc_on_stick"
LOZENGE = "lozenge"
CODE_PX = 6.4
NO_RINGS_PX = 5.8


@dataclass(frozen=True)
class Mark:
    """One mark: the device's code, the zone (0 for a blank, which has none), and what came back."""

    device: str
    zone: int
    fill: Fill = "not-yet-known"

    @property
    def shape(self) -> str:
        """The shape of the device: the catalogue's, a lozenge with its code for any other."""
        device = load_catalogue().devices.get(self.device)
        return device.shape if device else LOZENGE if self.device else ""

    def radius_mm(self, scale: float = MARK_SCALE) -> float:
        """How far the mark reaches from its centre, halo included."""
        outer = FIRST_RING_PX + RING_STEP_PX * (self.zone - 1) if self.zone else NO_RINGS_PX
        return (outer + HALO_PX) * MM_PER_PX * scale

    def stick_mm(self, scale: float = MARK_SCALE) -> float:
        """How far a stick reaches below the halo."""
        return (STICK_BEYOND_PX - HALO_PX) * MM_PER_PX * scale if self.shape == STICK else 0.0


def mark_svg(mark: Mark, at: tuple[float, float], scale: float = MARK_SCALE) -> str:
    """The mark as an SVG group at a position in millimetres; needs `symbols()` in the same picture."""
    size = MM_PER_PX * scale
    # weights are given on paper, so that no scale makes a line too thin to copy
    ring = (ZONE_1_RING_MM if mark.zone == 1 else RING_MM) / size
    parts = [
        f'<use href="#halo-{mark.zone}"/>',
        f'<use href="#rings-{mark.zone}" stroke-width="{ring:.3f}"/>',
        f'<use href="#stick-{mark.zone}"/>' if mark.shape == STICK else "",
        f'<use href="#{mark.shape}-{mark.fill}" stroke-width="{SHAPE_MM / size:.3f}"/>' if mark.shape else "",
        _code(mark) if mark.shape == LOZENGE else "",
    ]
    where = f"translate({at[0]:.3f} {at[1]:.3f}) scale({size:.5f})"
    return f'<g transform="{where}" stroke="#000" fill="none">{"".join(parts)}</g>'


def _code(mark: Mark) -> str:
    ink = "#fff" if mark.fill == "detected" else "#000"
    return (
        f'<text y="{CODE_PX * 0.36:.2f}" font-size="{CODE_PX}" font-weight="700" text-anchor="middle" '
        f'fill="{ink}" stroke="none">{mark.device[:2]}</text>'
    )


@cache
def symbols() -> str:
    """The definitions of every mark, to stand once in each picture."""
    text = files("swabwright.reports").joinpath("marks.svg").read_text(encoding="utf-8")
    return text[text.index("<defs>") : text.index("</defs>") + len("</defs>")]
