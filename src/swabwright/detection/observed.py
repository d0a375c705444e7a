"""Laboratory results as the engine reads them: what was sampled, what was found, and what else may have shown it."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from swabwright.detection.items import Item


@dataclass(frozen=True)
class Counted:
    """A count of colonies, where a laboratory gives one: CFU on the plates, and the share of the sample plated."""

    colonies: int
    plated_fraction: float


@dataclass(frozen=True)
class Observed:
    """One result of one sample for one strain, or for an indicator beside it.

    item: what was sampled, at its row and occasion of the bank; its recovery holds the viability of its own container.
    false_positive: chance that a sample without the strain shows it for a reason of its own (a screening test, a
    non-target organism of an indicator), beside that of its batch. batch: results that share one false-positive rate.
    """

    sample: str
    item: Item
    detected: bool
    batch: str
    false_positive: float = 0.0
    count: Counted | None = None


@dataclass(frozen=True)
class Blanks:
    """The blanks of one batch: how many were detected and how many not."""

    batch: str
    detected: int
    silent: int


@dataclass(frozen=True)
class MaterialTest:
    """One test of product, or of raw material, ingredient or water that came in for a line, of one day.

    kind: 'product' meets whatever the line carries; 'incoming' only what came in with the material of that line.
    """

    sample: str
    kind: Literal["product", "incoming"]
    line: str
    day: date
    kg_tested: float
    increments: int
    detected: bool


@dataclass(frozen=True)
class Observations:
    """Everything that the laboratory has said of one strain so far, in any order.

    strain: its name, None for any strain. several: whether the laboratory told more than one strain apart, so that what
    nobody has typed may be of another.
    """

    results: tuple[Observed, ...]
    blanks: tuple[Blanks, ...] = ()
    materials: tuple[MaterialTest, ...] = ()
    strain: str | None = None
    several: bool = False

    @property
    def samples(self) -> tuple[str, ...]:
        """Every sample that is read, of surfaces and of material."""
        return (*(one.sample for one in self.results), *(one.sample for one in self.materials))

    @property
    def anything_detected(self) -> bool:
        """Whether any sample of a surface or of material was detected."""
        return any(one.detected for one in self.results) or any(one.detected for one in self.materials)
