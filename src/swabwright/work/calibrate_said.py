"""What a calibration found: its figures, and the same as sentences with their errors and how many truths."""

from collections.abc import Iterator
from dataclasses import dataclass

from swabwright.case.words import counted
from swabwright.inference.calibration import Estimate
from swabwright.inference.calibration_bins import Bin, LargestError
from swabwright.inference.calibration_claims import Claims

FEW = 480
"""Truths below which an error is too rough to judge by."""


@dataclass(frozen=True)
class Covered:
    """How often the likeliest places, together so much of the chance, held a niche."""

    level: float
    held: Estimate


@dataclass(frozen=True)
class Calibrated:
    """How the engine's chances held on invented truths."""

    truths: str
    """What made them."""
    count: int
    covered: tuple[Covered, ...]
    bins: tuple[Bin, ...]
    largest: LargestError
    brier: Estimate
    log_score: Estimate
    claim: float
    claims: Claims

    @property
    def sentence(self) -> str:
        """Every figure as it is said, one a line."""
        return "\n".join(calibrated_words(self))


def calibrated_words(found: Calibrated) -> Iterator[str]:
    """The sentences, the most telling first; a caution where there are too few truths to judge by."""
    yield f"{found.truths}. {counted(found.count, 'truth')}."
    for one in found.covered:
        yield f"Sets said to hold a niche with {100 * one.level:g} in 100 held one in {_percent(one.held)}."
    yield from _bin_words(found)
    yield f"Brier score {_figure(found.brier)}; log score {_figure(found.log_score)}; lower is better."
    yield from _claim_words(found)
    if found.count < FEW:
        yield f"With fewer than {FEW} truths these figures show gross faults only."


def _bin_words(found: Calibrated) -> Iterator[str]:
    for one in found.bins:
        said = f"{100 * one.forecast:.1f}"
        yield f"Places given {said} in 100 on average were niches in {_percent(one.observed, 'place')}."
    worst = found.largest
    yield (
        f"Largest error of these groups: {100 * worst.value:.1f} in 100; chance alone would show "
        f"{100 * worst.by_chance_mean:.1f}, and in 5 of 100 cases over {100 * worst.by_chance_high:.1f}."
    )


def _claim_words(found: Calibrated) -> Iterator[str]:
    held = found.claims
    yield f"The likeliest place is a niche in {_percent(held.first_is_niche)}."
    yield f"Named with over {100 * found.claim:g} in 100, and rightly: {_percent(held.localised)}."
    if held.wrong.count:
        yield (
            f"Of the {held.wrong.count} named, no niche: {_percent(held.wrong)}; "
            f"no niche even in the room: {_percent(held.wrong_room)}."
        )


def _percent(one: Estimate, of: str = "truth") -> str:
    return f"{100 * one.value:.1f} in 100 (error {100 * one.error:.1f}, {counted(one.count, of)})"


def _figure(one: Estimate) -> str:
    return f"{one.value:.3f} (error {one.error:.3f}, {counted(one.count, 'truth')})"
