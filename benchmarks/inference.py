"""How fast results are read: row 9.

An invented plant of 200 sites, 1,500 histories. Results: samples at one site each, five sites with a detection among
two results. Process CPU seconds of all threads decide, wall seconds of two threads stand beside them; compiled code
warm.
"""

from collections.abc import Iterable
from time import perf_counter, process_time

import numpy as np

from benchmarks.table import Row
from benchmarks.visit_problems import invented_visit
from swabwright.belief.known import Known
from swabwright.belief.prior import make_prior
from swabwright.detection.choices import build_items
from swabwright.detection.observed import Observations, Observed
from swabwright.inference.posterior import posterior
from swabwright.inference.reading import read
from swabwright.plant.registry import load_catalogue
from swabwright.work.simulated import simulated_bank

SITES, HISTORIES, REPEATED = 200, 1500, 5
BARS = {30: (1.0, "0.3 s"), 100: (3.0, "1 s")}
Seconds = tuple[float, float]


def rows(*, full: bool) -> Iterable[Row]:
    """Row 9 for 30 and for 100 results; the best of three runs, of five when full."""
    opened = invented_visit(load_catalogue(), 1, SITES).opened
    bank = simulated_bank(opened, "B", None, lambda _line: None, histories=HISTORIES)
    known = Known(opened.case.investigation, opened.setting, bank)
    for count, (bar, aim) in BARS.items():
        yield _row(known, invented_results(known, count), (bar, aim), 5 if full else 3)


def invented_results(known: Known, count: int) -> Observations:
    """So many results at random sites, the first five of which have one detection and one silent repeat."""
    of_site = {item.site_key: item for item in build_items(known.setting, known.bank) if item.mode == "as_is"}
    items = list(of_site.values())
    order = np.random.default_rng(1).permutation(len(items))
    results = [
        Observed(f"{place:03d} {repeat}", items[order[place]], place < REPEATED and repeat == 0, "visit-1")
        for place in range(count - REPEATED)
        for repeat in range(2 if place < REPEATED else 1)
    ]
    return Observations(tuple(results))


def _row(known: Known, observations: Observations, bars: tuple[float, str], times: int) -> Row:
    prior = make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)
    reading = read(known, observations)
    posterior(reading, prior)
    best: Seconds = (float("inf"), 0.0)
    for _ in range(times):
        started, cpu = perf_counter(), process_time()
        after = posterior(read(known, observations), prior)
        best = min(best, (process_time() - cpu, perf_counter() - started))
    bar, aim = bars
    cpu, wall = best
    return Row(
        "9",
        f"posterior of {len(observations.results)} results, pairs included, {HISTORIES:,} histories, {SITES} sites",
        f"{cpu:.2f} s CPU, {wall:.2f} s wall",
        f"<= {bar:g} s",
        aim,
        cpu <= bar,
        f"{REPEATED} sites with a detection among repeats; effective histories {after.effective_histories:.0f}",
    )
