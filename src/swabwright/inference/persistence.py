"""How often a strain returned, beside how common it is elsewhere: the exact binomial test of repeats."""

from collections.abc import Sequence
from dataclasses import dataclass

from scipy.stats import binom

from swabwright.errors import SwabwrightError

LIMIT = (
    "A small chance says that the strain stayed in the plant or came in again and again; it does not say which, "
    "nor where it is."
)


@dataclass(frozen=True)
class Repeats:
    """A strain's isolates among all isolates of the plant, and its frequency in a reference that is named."""

    strain: str
    repeats: int
    isolates: int
    reference_frequency: float
    reference_source: str


@dataclass(frozen=True)
class Persistence:
    """The chance of so many repeats of one strain, were isolates drawn from the reference."""

    of: Repeats
    chance: float
    chance_adjusted: float
    """For all strains tested together (Holm)."""
    sentence: str


def persistence_p(repeats: int, isolates: int, reference_frequency: float) -> float:
    """The exact binomial chance of at least so many isolates of one strain, were each drawn from the reference.

    Malley and others, J Food Prot 2013;76:796-811, the test on frequencies of subtypes. Errors: SwabwrightError when
    the counts or the frequency cannot be; a frequency of 0 makes any repeat impossible and tests nothing.
    """
    if not 0 <= repeats <= isolates:
        raise SwabwrightError(f"repeats: {repeats} must be from 0 to the {isolates} isolates")
    if not 0.0 < reference_frequency <= 1.0:
        raise SwabwrightError(
            f"reference frequency: {reference_frequency:g} is not a share above 0 and up to 1; for a strain that the "
            "reference does not hold, give the upper end of its interval (sample-size interval)"
        )
    return float(binom.sf(repeats - 1, isolates, reference_frequency))


def persistence(tests: Sequence[Repeats]) -> tuple[Persistence, ...]:
    """Each strain's chance, and the chance adjusted for testing several (Holm, Scand J Stat 1979;6:65-70).

    Errors: SwabwrightError for a strain named twice, a reference without its source, and impossible counts.
    """
    for test in tests:
        if not test.reference_source.strip():
            raise SwabwrightError(f"{test.strain}: say where the reference frequency comes from")
    names = [test.strain for test in tests]
    twice = {name for name in names if names.count(name) > 1}
    if twice:
        raise SwabwrightError(f"{', '.join(sorted(twice))}: is tested twice; give each strain once")
    chances = [persistence_p(test.repeats, test.isolates, test.reference_frequency) for test in tests]
    adjusted = holm(chances)
    return tuple(
        Persistence(test, chance, together, _sentence(test, chance, together if len(tests) > 1 else None))
        for test, chance, together in zip(tests, chances, adjusted, strict=True)
    )


def holm(chances: Sequence[float]) -> tuple[float, ...]:
    """P values adjusted step by step from the smallest, in the order given (Holm, Scand J Stat 1979;6:65-70)."""
    least, adjusted = 0.0, [0.0] * len(chances)
    for rank, at in enumerate(sorted(range(len(chances)), key=lambda at: chances[at])):
        least = max(least, min(1.0, (len(chances) - rank) * chances[at]))
        adjusted[at] = least
    return tuple(adjusted)


def _sentence(test: Repeats, chance: float, adjusted: float | None) -> str:
    together = "" if adjusted is None else f", {adjusted:.2g} adjusted for all strains tested here (Holm)"
    return (
        f"{test.strain}: {test.repeats} of {test.isolates} isolates; were isolates drawn from the reference (frequency "
        f"{test.reference_frequency:g}; {test.reference_source.strip()}), so many or more would come with a chance of "
        f"{chance:.2g}{together}. {LIMIT}"
    )
