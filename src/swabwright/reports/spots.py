"""What is drawn at sites of a plan: marks with their numbers, badges beside them, links between them."""

from collections.abc import Sequence
from dataclasses import dataclass

from swabwright.plant.model import Point
from swabwright.reports.apart import apart
from swabwright.reports.frame import Dot, Frame
from swabwright.reports.marks import Mark
from swabwright.reports.tokens import MARK_SCALE


@dataclass(frozen=True)
class Spot:
    """A site with its mark, in metres; number and word stand beside it, in a box if it is proposed."""

    at: Point
    mark: Mark
    number: str = ""
    word: str = ""
    boxed: bool = False
    scale: float = MARK_SCALE


@dataclass(frozen=True)
class Shown:
    """A spot on paper: where its site is and where its mark stands, in millimetres."""

    spot: Spot
    home: Dot
    at: Dot

    @property
    def radius_mm(self) -> float:
        """How far the mark reaches from its centre, halo included."""
        return self.spot.mark.radius_mm(self.spot.scale)

    @property
    def stick_mm(self) -> float:
        """How far a stick reaches below the halo."""
        return self.spot.mark.stick_mm(self.spot.scale)


@dataclass(frozen=True)
class Badge:
    """A small sign beside a site, drawn around 0,0: its size in millimetres and how far it keeps from the site."""

    at: Point
    svg: str
    size: Dot
    keeps_off_mm: float = 0.8
    stays: bool = False
    """Drawn on the site itself, not beside it."""


@dataclass(frozen=True)
class Link:
    """A double line between two spots, by their place in the list, with a number in a disc on it."""

    first: int
    second: int
    number: str


def shown(spots: Sequence[Spot], frame: Frame) -> tuple[Shown, ...]:
    """Every spot on paper, its mark moved clear of the others."""
    homes = [frame.point(spot.at) for spot in spots]
    places = apart(homes, [spot.mark.radius_mm(spot.scale) for spot in spots])
    return tuple(Shown(*parts) for parts in zip(spots, homes, places, strict=True))
