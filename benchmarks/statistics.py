"""Seconds of the exact search for the smallest sample of a finite population, every size up to 500 looked at."""

from collections.abc import Iterable, Iterator
from contextlib import suppress
from time import perf_counter

from benchmarks.table import Row
from swabwright.detection.statistics.aim import Aim, OutOfReach
from swabwright.detection.statistics.finite import FinitePopulation
from swabwright.detection.statistics.finite_search import exact_sample_size
from swabwright.detection.statistics.performance import Performance

LIMIT_S = 1.0
SIZES = 500
TYPICAL = (
    (FinitePopulation.at(500, 0.1), Performance(0.9, 0.98)),
    (FinitePopulation.at(500, 0.01), Performance(0.9)),
    (FinitePopulation.at(100_000, 0.02), Performance(0.9, 0.98)),
)
HARDEST = ((FinitePopulation(500, 250), Performance(0.6, 0.55)), (FinitePopulation(500, 500), Performance(0.55, 0.5)))


def rows(*, full: bool) -> Iterable[Row]:
    """One row for what is asked in practice, one for the largest tables that 500 samples can need."""
    yield _row("practice", TYPICAL, repeats=5 if full else 2)
    yield _row("the hardest: half or all contaminated, a poor test, no size reaches", HARDEST, repeats=3 if full else 1)


def _row(name: str, cases: tuple[tuple[FinitePopulation, Performance], ...], repeats: int) -> Row:
    seconds = [one for case in cases for one in _seconds(case, repeats)]
    measured = f"{max(seconds):.3f} s worst, {min(seconds):.3f} s best of {len(seconds)}"
    title = f"exact finite-population search to n = {SIZES}, {name}"
    return Row("2.5", title, measured, f"{LIMIT_S:g} s", f"{LIMIT_S:g} s", max(seconds) < LIMIT_S)


def _seconds(case: tuple[FinitePopulation, Performance], repeats: int) -> Iterator[float]:
    population, test = case
    for _ in range(repeats):
        began = perf_counter()
        with suppress(OutOfReach):
            exact_sample_size(Aim(0.999, 0.999, largest_sample=SIZES), population, test)
        yield perf_counter() - began
