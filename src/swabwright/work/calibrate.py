"""Use case: whether the engine's chances mean what they say, on invented truths."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from swabwright.case.folder import Case
from swabwright.case.investigation import Visit
from swabwright.inference.calibration import Forecast, brier, coverage, log_score
from swabwright.inference.calibration_bins import largest_error, reliability
from swabwright.inference.calibration_claims import claims
from swabwright.plant.figures import Figures
from swabwright.work.calibrate_cases import case_forecasts, read_known_cases
from swabwright.work.calibrate_read import bank_of, own_forecasts, readers
from swabwright.work.calibrate_said import Calibrated, Covered
from swabwright.work.opened import open_visit

LEVELS = (0.5, 0.8, 0.95)
TOLD_EVERY = 20
"""Truths between two steps that are told."""
OWN_MODEL = (
    "Truths come from the engine's own model, of histories that it does not read: "
    "this holds the reckoning against itself, not the model against the world"
)


def calibrate_own(
    case: Case, visit: Visit, count: int, *, seed: int, cache_folder: Path | None, say: Callable[[str], None]
) -> Calibrated:
    """Truths of the engine's own model on the plant of a case, each read after the samples that the chooser takes.

    Results of earlier samples are left out. Refused as a plan is: limits that clash, facts that nothing explains.
    """
    histories = round(case.figures.number("inference.histories"))
    say("Choosing the samples of the visit")
    given = readers(open_visit(case, visit), cache_folder, say)
    true = bank_of(given.opened, "C", cache_folder, say, histories=histories)
    say(f"Reading {count} truths")
    made = list(_told(own_forecasts(given, true, count, seed), count, say))
    return _calibrated(OWN_MODEL, made, [given.rooms] * count, case.figures)


def _told(made: Iterable[Forecast], count: int, say: Callable[[str], None]) -> Iterator[Forecast]:
    """The same forecasts, now and then saying how far they are."""
    for number, one in enumerate(made, 1):
        yield one
        if number % TOLD_EVERY == 0 and number < count:
            say(f"Reading truth {number + 1} of {count} and those after it")


def calibrate_cases(
    folder: Path, count: int | None, *, cache_folder: Path | None, say: Callable[[str], None]
) -> Calibrated:
    """Case folders with a truth beside them, each planned and read by the engine.

    Errors: SwabwrightError when no folder holds a truth; DocumentRefused naming what does not fit.
    """
    say("Reading the cases and their truths")
    cases = read_known_cases(folder, count)
    figures = cases[0].case.figures
    pairs = list(case_forecasts(cases, cache_folder, say))
    told = sorted({f"Truths of level {one.truth.level}, made by {one.truth.made_by}" for one in cases})
    return _calibrated("; ".join(told), [made for _, made in pairs], [given.rooms for given, _ in pairs], figures)


def _calibrated(
    truths: str, made: Sequence[Forecast], rooms: Sequence[tuple[str, ...]], figures: Figures
) -> Calibrated:
    bar = figures.number("inference.claim")
    return Calibrated(
        truths=truths,
        count=len(made),
        covered=tuple(Covered(level, coverage(made, level)) for level in LEVELS),
        bins=reliability(made),
        largest=largest_error(made),
        brier=brier(made),
        log_score=log_score(made),
        claim=bar,
        claims=claims(made, rooms, bar),
    )
