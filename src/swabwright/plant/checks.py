"""What is missing in a plant as drawn: sentences with the place and the remedy, most important first."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count, product
from string import ascii_lowercase

from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.gap import Gap
from swabwright.plant.gaps_flow import flow_gaps
from swabwright.plant.gaps_places import place_gaps
from swabwright.plant.gaps_times import time_gaps


@dataclass(frozen=True)
class Missing:
    """One thing that nobody has said yet; it never stops a plan, but makes it wider."""

    letter: str
    """Mark on the drawing: a, b, c ..."""
    text: str
    path: str
    """Where it belongs in the document: `drains[3].flow`."""
    remedy: str
    important: bool
    """Whether it moves the plan itself, not only its paper."""


def what_is_missing(plant: Plant, catalogue: Catalogue) -> tuple[Missing, ...]:
    """Everything the plan would rather know, in sentences, the important first and lettered in that order."""
    gaps = [*flow_gaps(plant), *time_gaps(plant, catalogue), *place_gaps(plant, catalogue)]
    ordered = sorted(gaps, key=lambda gap: not gap.important)
    return tuple(_lettered(letter, gap) for letter, gap in zip(letters(), ordered, strict=False))


def letters() -> Iterator[str]:
    """a, b ... z, aa, ab ... without end."""
    for length in count(1):
        for letter in product(ascii_lowercase, repeat=length):
            yield "".join(letter)


def _lettered(letter: str, gap: Gap) -> Missing:
    return Missing(letter, gap.text, gap.path, gap.remedy, gap.important)
