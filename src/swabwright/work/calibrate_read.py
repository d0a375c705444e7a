"""A plan's samples in truths of the engine's own, read on a bank that knows nothing of them."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np

from swabwright.belief.known import Known
from swabwright.belief.prior import ROOM, Prior, make_prior
from swabwright.detection.items import Item
from swabwright.detection.observed import Observations
from swabwright.inference.calibration import Forecast
from swabwright.inference.posterior import Posterior
from swabwright.planning.choose import choose
from swabwright.planning.walk import WalkPlanner
from swabwright.planning.walk_controls import Shares, shares_of
from swabwright.spread.bank import BankName, ResponseBank
from swabwright.work.calibrate_own import as_observed, draw_results, draw_truths
from swabwright.work.opened import OpenVisit
from swabwright.work.read_case import read_bank
from swabwright.work.samples_problem import samples_problem
from swabwright.work.simulated import simulate, simulated_bank

BATCH = "visit-1"


@dataclass(frozen=True)
class Readers:
    """The samples that the chooser takes on a visit, and the bank that reads them, with more histories where needed."""

    opened: OpenVisit
    items: tuple[Item, ...]
    bank: Callable[[int], ResponseBank]
    """The bank that reads, with so many histories."""
    histories: tuple[int, int]
    """To begin with, and at most."""

    @property
    def reads(self) -> Known:
        """What is known on the bank that reads, as it is to begin with."""
        return Known(self.opened.case.investigation, self.opened.setting, self.bank(self.histories[0]))

    def after(self, observations: Observations) -> Posterior:
        """Where it lives after these results; histories are doubled while too few bear them, as for a real case."""
        histories, most = self.histories
        while True:
            one = read_bank(self.opened, self.bank(histories), observations)
            if one.lacking is None or histories >= most:
                return one.after
            histories = min(most, 2 * histories)

    @property
    def rooms(self) -> tuple[str, ...]:
        """The room of every source; incoming material is in none but its own line's."""
        room_of = {site.key: f"{ROOM}{site.room}" for site in self.opened.case.plant.sites}
        return tuple(room_of.get(name, name) for name in self.sources)

    @property
    def sources(self) -> tuple[str, ...]:
        """The sources of the bank."""
        return self.bank(self.histories[0]).source_names


def readers(
    opened: OpenVisit,
    cache_folder: Path | None,
    say: Callable[[str], None],
    *,
    histories: tuple[int, int] | None = None,
    samples: tuple[Shares, float] | None = None,
) -> Readers:
    """The chosen samples of a visit, no walk made, and bank B; earlier results of the investigation are left out.

    histories: of the bank, to begin with and at most; the figures' own when left out. samples: how many surface
    samples, and the minutes for them; as the visit's limits have it when left out. Errors: LimitsClash when no set
    keeps the limits.
    """
    opened = without_earlier(opened)
    simulated = simulate(opened, "A", cache_folder, say)
    chosen = choose(samples_problem(opened, simulated, *(samples or _limits(opened)))).items

    @cache
    def bank(count: int) -> ResponseBank:
        return simulated_bank(opened, "B", cache_folder, say, histories=count)

    return Readers(opened, tuple(simulated.items[place] for place in chosen), bank, histories or _histories(opened))


def _histories(opened: OpenVisit) -> tuple[int, int]:
    first, most = (round(opened.figures.number(f"inference.{name}")) for name in ("histories", "most_histories"))
    return first, most


def bank_of(
    opened: OpenVisit, bank: BankName, cache_folder: Path | None, say: Callable[[str], None], *, histories: int
) -> Known:
    """What is known of a visit, on one bank."""
    responses = simulated_bank(opened, bank, cache_folder, say, histories=histories)
    return Known(opened.case.investigation, opened.setting, responses)


def without_earlier(opened: OpenVisit) -> OpenVisit:
    """The same visit without results of earlier samples, which no invented truth can be held to."""
    investigation = opened.case.investigation.model_copy(update={"earlier_results": ()})
    return replace(opened, case=replace(opened.case, investigation=investigation))


def _limits(opened: OpenVisit) -> tuple[Shares, float]:
    shares = shares_of(opened.visit.limits, opened.figures)
    return shares, WalkPlanner(opened.space, opened.figures, opened.visit, shares).minutes_available


def own_forecasts(given: Readers, true: Known, count: int, seed: int, cluster: str | None = None) -> Iterator[Forecast]:
    """What the engine believes of each truth of its own after the samples.

    true: another bank of the same visit, whose histories are the truths. Clustered by its structural copies by default.
    """
    random = np.random.default_rng([seed, given.opened.case.investigation.seed])
    prior = prior_on(true)
    truths = draw_truths(true, prior, count, random)
    found = draw_results(truths, given.items, random)
    for row in range(count):
        after = given.after(as_observed(given.items, found[:, row], BATCH))
        copy = f"copy {truths.rows.copy[row]}"
        yield Forecast(after.share, after.marginal, truths.niches(row), cluster or copy)


def prior_on(known: Known) -> Prior:
    """Where it may live before any sample, on the sources of a bank."""
    return make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)
