"""What one source reaches by one mechanism: the currency of the builders of the contact network."""

from collections.abc import Sequence
from dataclasses import dataclass

from swabwright.spread.places import Place

Node = int
"""Index of a source: the rows first, then incoming material of each line."""


@dataclass(frozen=True)
class Target:
    """A row reached, its share of what moves, and the sentence that says why."""

    row: int
    share: float
    reason: str


@dataclass(frozen=True)
class Reach:
    """Everything one source reaches by one mechanism and one way (a route, a line, a pipe).

    share: of the rate of the mechanism that this source has (trips, part of the floor). clock: whose
    running hours count, `room:<id>` or `line:<id>`. The shares of the targets add up to 1.
    """

    source: Node
    mechanism: str
    way: str
    clock: str
    rate_factor: float
    targets: tuple[Target, ...]


def with_remainder(targets: Sequence[Target], rest: int, why: str) -> tuple[Target, ...]:
    """The targets and, for what they do not take, the rest of the room; more than all is scaled down to all."""
    taken = sum(target.share for target in targets)
    if taken >= 1.0:
        return tuple(Target(target.row, target.share / taken, target.reason) for target in targets)
    return (*targets, Target(rest, 1.0 - taken, why))


def same_family(a: Place, b: Place) -> bool:
    """Whether two rows are pieces of one drawn site."""
    return a.family == b.family
