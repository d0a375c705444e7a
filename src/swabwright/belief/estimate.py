"""A chance as it may be said: with a range and what it rests on, never a bare number."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from swabwright.belief.believe import Belief, items_under
from swabwright.belief.outcome import find_chances, hit_chances
from swabwright.belief.rows import HypothesisRows
from swabwright.belief.spread_of import Spread, spread_of
from swabwright.case.plan import Chance
from swabwright.case.words import UNCERTAIN
from swabwright.detection.items import Item

Array = npt.NDArray[np.float64]
PerRow = Callable[[Belief], Array]
MOST_LETTERS = 400


@dataclass(frozen=True)
class Alternative:
    """The same chance with a group of figures set differently, and which."""

    words: str
    value: float


def chance(values: Array, rows: HypothesisRows, basis: str, alternatives: Sequence[Alternative] = ()) -> Chance:
    """The mean of per-row chances with its range, widened to every alternative, and the basis in words.

    The range is 10 to 90 in 100 over the structural copies; where too few of them are left it says so.
    """
    return said(spread_of(values, rows), basis, alternatives)


def said(spread: Spread, basis: str, alternatives: Sequence[Alternative] = ()) -> Chance:
    """A spread as a chance in words, its range widened to every alternative."""
    others = [alternative.value for alternative in alternatives]
    parts = [_range_words(spread.uncertain), *([f"widened by {_joined(alternatives)}"] if alternatives else []), basis]
    return Chance(
        value=spread.value,
        low=float(np.clip(min([spread.low, *others]), 0.0, 1.0)),
        high=float(np.clip(max([spread.high, *others]), 0.0, 1.0)),
        # range and alternatives come first: if anything is cut off, it is the end of the prior's description
        basis="; ".join(parts)[:MOST_LETTERS],
    )


def _range_words(uncertain: str | None) -> str:
    if uncertain:
        return f"{UNCERTAIN}{uncertain}"
    return "range 10 to 90 in 100 over structural copies of the plant"


def _joined(alternatives: Sequence[Alternative]) -> str:
    return ", ".join(f"{one.words} ({one.value * 100:.0f})" for one in alternatives)


def alternatives_of(belief: Belief, per_row: PerRow) -> tuple[Alternative, ...]:
    """The weighted mean of a per-row chance in the other readings of a belief."""
    return tuple(Alternative(words, mean(per_row, reading)) for words, reading in belief.readings)


def mean(per_row: PerRow, belief: Belief) -> float:
    """The weighted mean of a per-row chance in a belief."""
    return float(belief.rows.weight @ per_row(belief))


def chance_of_finding(belief: Belief, items: tuple[Item, ...]) -> Chance:
    """The chance that these samples find it, if it lives here, given each site's earlier results."""
    return _of_plan(belief, items, find_chances)


def chance_of_hitting(belief: Belief, items: tuple[Item, ...]) -> Chance:
    """The chance that one of these samples sits on a niche itself and finds it, if it lives here."""
    return _of_plan(belief, items, hit_chances)


def _of_plan(belief: Belief, items: tuple[Item, ...], kind: Callable[..., Array]) -> Chance:
    def per_row(other: Belief) -> Array:
        return kind(other.known, other.rows, items_under(other.known, items))

    return chance(per_row(belief), belief.rows, basis_of(belief), alternatives_of(belief, per_row))


def basis_of(belief: Belief) -> str:
    """What a chance of this belief rests on: hypotheses, bank, prior and who set it."""
    rows, bank = len(belief.rows), belief.known.bank
    drawn = f"{rows:,} hypotheses, {bank.histories:,} histories, bank {bank.bank}"
    return f"{drawn}; prior {belief.prior.set_by}: {belief.prior.words}"
