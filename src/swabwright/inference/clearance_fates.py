"""From actions to fates: with which chance a niche is gone, and from which moment on."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from swabwright.inference.clearance_states import UNTREATED, Fate


@dataclass(frozen=True)
class Treated:
    """One action at one source: the number of its moment in order of time, and the chance that it removes a niche."""

    source: int
    moment: int
    chance: float


def gone_bank(moment: int) -> int:
    """Place, among the banks, of the one in which every niche is gone from a moment on."""
    return 1 + 2 * moment


def reduced_bank(moment: int) -> int:
    """Place, among the banks, of the one in which every niche is reduced at a moment and grows again."""
    return 2 + 2 * moment


def fates_of(sources: int, treated: Iterable[Treated]) -> tuple[tuple[Fate, ...], ...]:
    """What may have become of a niche at each source.

    Each action removes it with its own chance; one that outlives them all is reduced once, at the first of them.
    An action without a chance changes nothing.
    """
    at: dict[int, list[Treated]] = {}
    for one in sorted(treated, key=lambda one: (one.moment, one.chance)):
        if one.chance > 0:
            at.setdefault(one.source, []).append(one)
    return tuple(_fates(at[source]) if source in at else UNTREATED for source in range(sources))


def _fates(actions: Sequence[Treated]) -> tuple[Fate, ...]:
    left, fates = 1.0, []
    for one in actions:
        fates.append(Fate(gone_bank(one.moment), left * one.chance, gone=True))
        left *= 1.0 - one.chance
    return (*fates, Fate(reduced_bank(actions[0].moment), left, gone=False))
