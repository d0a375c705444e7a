"""Whether it is gone: the chance that no niche remains, after actions and the rounds sampled since."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from swabwright.belief.known import Known
from swabwright.belief.rows import HypothesisRows
from swabwright.belief.spread_of import Spread, spread_of
from swabwright.detection.factor import SiteResults, site_factor
from swabwright.detection.items import Item
from swabwright.detection.model import DetectionModel
from swabwright.detection.observed import Observed
from swabwright.errors import NothingFits
from swabwright.inference.batches import BatchState
from swabwright.inference.clearance_cells import cells_in_states
from swabwright.inference.clearance_states import Fate, States, split

Array = npt.NDArray[np.float64]
Cells = npt.NDArray[np.float32]
"""Expected recovered cells of samples in every state, shape (samples, S)."""
Rates = Mapping[str, float]
"""Chance that a sample of each batch shows what is not there."""


@dataclass(frozen=True)
class Aftermath:
    """What is believed after actions: states of hypotheses with all results so far at each site.

    banks: of the same histories, the first with every niche left. past: results so far by the key whose discrepancy
    they share, with the cells of each in every state. recovery: factor on what every sample recovers, by wetness.
    """

    banks: tuple[Known, ...]
    states: States
    past: Mapping[str, SiteResults]
    model: DetectionModel
    recovery: Mapping[str, float]

    @property
    def chance_gone(self) -> float:
        """Chance that no niche remains anywhere."""
        return float(self.states.rows.weight @ self.states.gone)

    @property
    def gone(self) -> Spread:
        """Chance that no niche remains anywhere, with its range over structural copies."""
        return spread_of(self.states.gone.astype(np.float64), self.states.rows)

    @property
    def left(self) -> HypothesisRows:
        """The states in which a niche remains, weighted among themselves; gone ones have no weight."""
        rows = self.states.rows
        weight = np.where(self.states.gone, 0.0, rows.weight)
        return replace(rows, weight=weight / weight.sum())

    @property
    def share_left(self) -> Array:
        """Where it is if it is not gone: share of each source, summing to 1; a state's niches share it evenly."""
        each = self.left.weight / np.maximum(1, self.states.remains.sum(axis=1))
        sources = len(self.banks[0].bank.source_names)
        at = np.where(self.states.remains, self.states.rows.sources, sources)
        return np.asarray(sum(np.bincount(column, each, sources + 1) for column in at.T))[:sources]

    def left_at(self, source: int) -> Spread:
        """The share of one source of what may be left, with its range over structural copies."""
        own = (self.states.remains & (self.states.rows.sources == source)).sum(axis=1)
        return spread_of(own / np.maximum(1, self.states.remains.sum(axis=1)), self.left)

    def after(self, results: Sequence[Observed], rates: Rates, cells: Cells | None = None) -> "Aftermath":
        """The same once these results are known, in any order; read with all earlier results of their sites.

        What the model misses about a site, whether it explains it, and whether a sample there hits the niche's spot
        are the same in every round, so 'not detected' again at one site says less each time. Raises NothingFits.
        cells: those of the results, where another aftermath that recovers alike has them already.
        """
        groups = results_by_site(results, rates, self._cells(results) if cells is None else cells)
        weight = self.states.rows.weight * self._ratio(groups)
        if not weight.sum() > 0:
            raise NothingFits("no state of any niche explains the results after the actions")
        past = {**self.past, **{key: _together(self.past.get(key), new) for key, new in groups}}
        return replace(self, states=self.states.weighed(weight), past=past)

    def ratio(self, results: Sequence[Observed], rates: Rates) -> Array:
        """Chance of exactly these results in every state, given all results so far; shape (S,)."""
        return self._ratio(results_by_site(results, rates, self._cells(results)))

    def recovers_like(self, other: "Aftermath") -> bool:
        """Whether the cells of any sample are the same in both: only their weights differ."""
        own, its = self.states, other.states
        pairs = (
            (own.bank, its.bank),
            (own.rows.history, its.rows.history),
            (own.rows.sources, its.rows.sources),
        )
        alike = self.banks is other.banks and self.recovery == other.recovery
        return alike and all(np.array_equal(one, two) for one, two in pairs)

    def cells(self, items: tuple[Item, ...]) -> Cells:
        """Expected recovered cells of items in every state, shape (items, S)."""
        return cells_in_states(self.banks, self.states, tuple(self._recovered(item) for item in items))

    def some(self, places: npt.NDArray[np.int64]) -> "Aftermath":
        """The same on some of the states."""
        few = {key: replace(one, cells=one.cells[:, places]) for key, one in self.past.items()}
        return replace(self, states=self.states.some(places), past=few)

    def _cells(self, results: Sequence[Observed]) -> Cells:
        return self.cells(tuple(one.item for one in results))

    def _ratio(self, groups: Sequence[tuple[str, SiteResults]]) -> Array:
        ratio = np.ones(len(self.states))
        for key, new in groups:
            past = self.past.get(key)
            ratio *= site_factor(_together(past, new), self.model)
            if past is not None:
                ratio /= site_factor(past, self.model)
        return ratio

    def _recovered(self, item: Item) -> Item:
        return replace(item, recovery=item.recovery * self.recovery.get(item.wetness, 1.0))


def aftermath(
    banks: Sequence[Known], rows: HypothesisRows, fates: Sequence[Sequence[Fate]], model: DetectionModel
) -> Aftermath:
    """What is believed once actions are done and nothing is sampled yet, on hypotheses that hold no result as past.

    rows: what was believed before the actions. fates: what may become of a niche at each source of the banks.
    """
    return Aftermath(tuple(banks), split(rows, fates), {}, model, {})


def with_past(one: Aftermath, results: Sequence[Observed], rates: Rates) -> Aftermath:
    """The same where these results are already in the weights; what they say of their sites is kept beside them."""
    groups = results_by_site(results, rates, one.cells(tuple(result.item for result in results)))
    return replace(one, past={**one.past, **dict(groups)})


def results_by_site(
    results: Sequence[Observed], rates: Rates, cells: npt.NDArray[np.float32]
) -> list[tuple[str, SiteResults]]:
    """Results by the key whose discrepancy they share, in order of it; counts are read as 'detected'."""
    places: dict[str, list[int]] = defaultdict(list)
    # by sample, so that no order of results changes a sum
    for place in sorted(range(len(results)), key=lambda at: results[at].sample):
        places[results[place].item.shared_key].append(place)
    found = np.array([one.detected for one in results], np.bool_)
    rate = np.array([1.0 - (1.0 - one.false_positive) * (1.0 - rates[one.batch]) for one in results])
    return [(key, SiteResults(cells[at], found[at], rate[at])) for key, at in sorted(places.items())]


def mean_rates(states: Sequence[tuple[BatchState, float]]) -> dict[str, float]:
    """Chance of a false detection in each batch, over the ways in which the batches may be and their weight."""
    whole = sum(weight for _, weight in states)
    rates: dict[str, float] = defaultdict(float)
    for state, weight in states:
        for batch, rate in state.rates.items():
            rates[batch] += rate * weight / whole
    return dict(rates)


def _together(past: SiteResults | None, new: SiteResults) -> SiteResults:
    if past is None:
        return new
    return SiteResults(
        np.concatenate([past.cells, new.cells]),
        np.concatenate([past.detected, new.detected]),
        np.concatenate([past.false_positive, new.false_positive]),
    )
