"""Whether chances mean what they say: rows 10 and 12, on truths of the engine's own model, of banks it never reads.

Invented plants of 200 sites; on each the chooser's 30 samples, then truths drawn by prior and history of bank C, their
results by the detection model, read on bank B. Errors are clustered by plant; a row is decided only when the error
is at most a third of the tolerance.
"""

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from benchmarks.study_figures import with_study_figures
from benchmarks.table import Row
from benchmarks.visit_problems import MINUTES_A_SAMPLE, investigated_plant
from swabwright.inference.calibration import Estimate, Forecast, brier, coverage, log_score
from swabwright.inference.calibration_bins import largest_error, reliability
from swabwright.planning.walk_controls import Shares
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.registry import load_catalogue
from swabwright.work.calibrate_read import bank_of, own_forecasts, readers

SITES, HISTORIES, SAMPLES = 200, 1500, 30
PLANTS, TRUTHS = 32, 32
SMALL_PLANTS, SMALL_TRUTHS = 2, 12
LEVELS = {0.5: (0.06, 0.03), 0.8: (0.05, 0.03), 0.95: (0.025, 0.03)}
"""Tolerance that must be kept, and the one aimed at."""
WORST, WORST_AIM = 0.08, 0.04
ENOUGH = 480
"""Investigations below which nothing is decided: too few even to know the error."""


def rows(*, full: bool) -> Iterable[Row]:
    """Rows 10 and 12 with the product's defaults, and with the study's figures beside them when full."""
    size = (PLANTS, TRUTHS) if full else (SMALL_PLANTS, SMALL_TRUTHS)
    default = list(forecasts(load_catalogue(), *size))
    yield from _rows(default, "product's defaults")
    if full:
        yield from _rows(list(forecasts(with_study_figures(load_catalogue()), *size)), "study's figures")


def forecasts(catalogue: Catalogue, plants: int, truths: int, cache: Path | None = None) -> Iterator[Forecast]:
    """What is believed of so many truths on each of so many plants."""
    shares = Shares(surface=SAMPLES, blanks=0, duplicates=0, judgement=0)
    for seed in range(1, plants + 1):
        opened = investigated_plant(catalogue, seed, SITES)
        samples = (shares, MINUTES_A_SAMPLE * SAMPLES)
        given = readers(opened, cache, _quiet, histories=(HISTORIES, HISTORIES), samples=samples)
        true = bank_of(given.opened, "C", cache, _quiet, histories=HISTORIES)
        yield from own_forecasts(given, true, truths, seed, f"plant {seed}")


def _quiet(_step: str) -> None:
    """Says nothing."""


def _rows(made: Sequence[Forecast], figures: str) -> Iterator[Row]:
    for level, (must, aim) in LEVELS.items():
        yield _coverage_row(coverage(made, level), level, (must, aim), figures)
    yield _bins_row(made, figures)


def _coverage_row(held: Estimate, level: float, bars: tuple[float, float], figures: str) -> Row:
    must, aim = bars
    off = abs(held.value - level)
    decided = held.count >= ENOUGH and held.error <= must / 3
    return Row(
        "10",
        f"sets of {100 * level:g} in 100 hold a niche, truths of the engine's own model, {figures}",
        f"{100 * held.value:.1f} (error {100 * held.error:.1f}, n = {held.count})",
        f"within {100 * must:g}",
        f"within {100 * min(must, aim):g}",
        off <= must if decided else None,
        "" if decided else f"undecided: fewer than {ENOUGH} truths, or the error is over a third of {100 * must:g}",
    )


def _bins_row(made: Sequence[Forecast], figures: str) -> Row:
    worst = largest_error(made)
    bins = reliability(made)
    # an honest forecaster shows an error too: a miss within what chance shows decides nothing
    decided = len(made) >= ENOUGH and (worst.value <= WORST or worst.value > worst.by_chance_high)
    said = ", ".join(f"{one.forecast:.2f}/{one.observed.value:.2f} ({one.observed.count})" for one in bins)
    scores = f"Brier {brier(made).value:.3f}, log score {log_score(made).value:.2f}"
    return Row(
        "12",
        f"reliability of site chances, largest error of a bin, {figures}",
        f"{worst.value:.3f} (by chance {worst.by_chance_mean:.3f}, up to {worst.by_chance_high:.3f}; n = {len(made)})",
        f"<= {WORST}",
        f"{WORST_AIM}",
        worst.value <= WORST if decided else None,
        f"{'' if decided else 'undecided; '}said/true (places): {said}; {scores}",
    )
