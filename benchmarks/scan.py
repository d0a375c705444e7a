"""Seconds of a scan of 250 sites with 9,999 rearrangements."""

from collections.abc import Iterable
from time import perf_counter

import numpy as np

from benchmarks.table import Row
from swabwright.inference.scan import Search, scan
from swabwright.inference.scan_tested import SitesTested

LIMIT_S, SITES, REARRANGEMENTS, PERIODS = 2.0, 250, 9999, 4
NOTE = "wall time, one period, two threads, compiled beforehand"


def rows(*, full: bool) -> Iterable[Row]:
    """One row for each model, compiled beforehand."""
    for model in ("bernoulli", "poisson"):
        tested = _invented(model)
        scan(tested, Search(rearrangements=1))
        seconds = min(_seconds(tested) for _ in range(3 if full else 1))
        title = f"scan of {SITES} sites with {REARRANGEMENTS} rearrangements, {model}"
        yield Row("2.4", title, f"{seconds:.2f} s", f"{LIMIT_S:g} s", f"{LIMIT_S:g} s", seconds < LIMIT_S, NOTE)
    if full:
        yield _in_time()


def _in_time() -> Row:
    """The same sites over several periods: reported, the bar is for space alone."""
    tested = _invented("bernoulli", PERIODS)
    scan(tested, Search(rearrangements=1))
    title = f"scan of {SITES} sites over {PERIODS} periods with {REARRANGEMENTS} rearrangements, bernoulli"
    return Row("2.4", title, f"{_seconds(tested):.2f} s", "-", "-", None)


def _seconds(tested: SitesTested) -> float:
    began = perf_counter()
    scan(tested, Search(rearrangements=REARRANGEMENTS))
    return perf_counter() - began


def _invented(model: str, periods: int = 1) -> SitesTested:
    chance = np.random.default_rng(1)
    points = chance.uniform(0, 60, (SITES, 2))
    base = chance.integers(1, 4, (SITES, periods))
    detections = chance.binomial(base, 0.1)
    distances = np.linalg.norm(points[:, None] - points[None], axis=2)
    return SitesTested(tuple(f"S{n}" for n in range(SITES)), detections, base.astype(float), distances, model)
