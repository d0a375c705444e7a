"""The ways contamination moves, and what their events are like."""

from dataclasses import dataclass

from swabwright.plant.figures import Figures

MECHANISMS = (
    "line",
    "niche_to_contact",
    "splash",
    "overspray",
    "drain_flow",
    "backflow",
    "foot",
    "wheel",
    "hand",
    "drip",
    "air",
)
AREA_MECHANISMS = frozenset({"line", "splash", "overspray", "drain_flow", "backflow", "drip", "air"})
"""One event reaches everything in the footprint; the others reach one target an event."""
NUMBERS = {name: number for number, name in enumerate(MECHANISMS)}


@dataclass(frozen=True)
class Mechanism:
    """One way of moving: how often, how much of the load an event moves, how far."""

    name: str
    rate_per_8h: float
    fraction: float
    kernel_m: float
    rate_mean_one: bool
    """Whether the rate is an average of its uncertainty (else its median)."""
    fraction_mean_one: bool

    @property
    def reaches_area(self) -> bool:
        """Whether one event reaches everything in its footprint."""
        return self.name in AREA_MECHANISMS


def mechanisms_of(figures: Figures) -> tuple[Mechanism, ...]:
    """All mechanisms with their figures, in the order of MECHANISMS."""
    return tuple(_mechanism(name, figures) for name in MECHANISMS)


def _mechanism(name: str, figures: Figures) -> Mechanism:
    rate, fraction = figures[f"mechanism.{name}.rate_per_8h"], figures[f"mechanism.{name}.fraction"]
    kernel = f"mechanism.{name}.kernel_m"
    return Mechanism(
        name=name,
        rate_per_8h=rate.value,
        fraction=fraction.value,
        kernel_m=figures.number(kernel) if kernel in figures else 0.0,
        rate_mean_one=rate.central == "mean",
        fraction_mean_one=fraction.central == "mean",
    )
