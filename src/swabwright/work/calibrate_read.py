"""A plan's samples in truths of the engine's own, read on a bank that knows nothing of them."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from swabwright.belief.known import Known
from swabwright.belief.prior import make_prior
from swabwright.detection.items import Item
from swabwright.detection.observed import Observations
from swabwright.inference.calibration import Forecast
from swabwright.inference.posterior import Posterior, posterior
from swabwright.inference.reading import read
from swabwright.planning.choose import choose
from swabwright.planning.walk_controls import Shares
from swabwright.work.calibrate_own import as_observed, draw_results, draw_truths, without_earlier
from swabwright.work.opened import OpenVisit
from swabwright.work.samples_problem import samples_problem
from swabwright.work.simulated import simulate, simulated_bank

BATCH = "visit-1"


@dataclass(frozen=True)
class Readers:
    """The samples of a plan, the bank that reads them and the bank that truths come from; all of one visit."""

    opened: OpenVisit
    items: tuple[Item, ...]
    reads: Known
    true: Known


def readers(
    opened: OpenVisit,
    samples: tuple[Shares, float],
    cache_folder: Path | None,
    say: Callable[[str], None],
    *,
    histories: int,
) -> Readers:
    """The chosen samples of a visit, no walk made, and its banks B to read and C to be true.

    samples: how many surface samples, and the minutes for them. Errors: LimitsClash when no set keeps the limits.
    """
    simulated = simulate(opened, "A", cache_folder, say)
    chosen = choose(samples_problem(opened, simulated, *samples)).items
    reads, true = (
        without_earlier(
            Known(
                opened.case.investigation,
                opened.setting,
                simulated_bank(opened, bank, cache_folder, say, histories=histories),
            )
        )
        for bank in ("B", "C")
    )
    return Readers(opened, tuple(simulated.items[place] for place in chosen), reads, true)


def own_forecasts(given: Readers, count: int, seed: int, cluster: str | None = None) -> Iterator[Forecast]:
    """What the engine believes of each truth of its own after the samples; clustered by structural copy by default."""
    random = np.random.default_rng([seed, given.opened.case.investigation.seed])
    plant, catalogue = given.opened.case.plant, given.opened.case.catalogue
    prior = make_prior(plant, catalogue, given.true.bank.source_names)
    truths = draw_truths(given.true, prior, count, random)
    found = draw_results(truths, given.items, random)
    for row in range(count):
        after = read_again(given, as_observed(given.items, found[:, row], BATCH))
        copy = f"copy {truths.rows.copy[row]}"
        yield Forecast(after.share, after.marginal, truths.niches(row), cluster or copy)


def read_again(given: Readers, observations: Observations) -> Posterior:
    """Where it lives after these results, on the bank that reads."""
    prior = make_prior(given.opened.case.plant, given.opened.case.catalogue, given.reads.bank.source_names)
    return posterior(read(given.reads, observations), prior)
