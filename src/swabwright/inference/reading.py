"""Results and facts read on a bank: what every history with one niche says of them, ready for one niche and for two."""

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from swabwright.belief.earlier import earlier_samples
from swabwright.belief.known import Known
from swabwright.detection.model import detection_model
from swabwright.detection.observed import Observations, Observed
from swabwright.inference.batches import BatchState, batch_states
from swabwright.inference.entries import Entries, read_entries
from swabwright.inference.facts import Facts, read_facts
from swabwright.inference.term_kernels import read_again
from swabwright.inference.terms import SiteGroup, SiteSpec, site_groups, site_spec

Array = npt.NDArray[np.float64]
EARLIER = "earlier"


@dataclass(frozen=True)
class Reading:
    """All that was found, read on one bank; rows are histories times sources, in the bank's order."""

    known: Known
    results: tuple[Observed, ...]
    groups: tuple[SiteGroup, ...]
    states: tuple[BatchState, ...]
    """The ways in which batches may be; this reading is of the first, all clean, unless made by `in_state`."""
    spec: SiteSpec
    entries: Entries
    total: Array
    """(rows,) sum of each row's log ratios."""
    facts: Facts

    def in_state(self, state: BatchState) -> "Reading":
        """The same results were the batches so; only sites with a result of a contaminated batch are read again."""
        if not state.contaminated:
            return self
        touched = [any(self.results[at].batch in state.contaminated for at in group.places) for group in self.groups]
        spec = _spec(self.known, self.groups, self.results, state.rates)
        return self._respecified(spec, np.array(touched, np.bool_))

    def without(self, samples: frozenset[str]) -> "Reading":
        """The same without the results of some samples; states of batches stay as all results left them."""
        gone = [all(self.results[at].sample in samples for at in group.places) for group in self.groups]
        left = {self.results[at].sample for at, group in self._placed() if not gone[group]}
        if left & samples:
            kept = tuple(one for one in self.results if one.sample not in samples)
            return read_results(self.known, kept, self.states, self.facts)
        # a site that says nothing has the ratio 1 in every row
        silenced = np.array(gone, np.bool_)
        spec = self.spec._replace(
            by_table=self.spec.by_table | silenced,
            constant=np.where(silenced, 1.0, self.spec.constant),
            slope=np.where(silenced, 0.0, self.spec.slope),
            ln_nothing=np.where(silenced, 0.0, self.spec.ln_nothing),
        )
        return self._respecified(spec, silenced)

    def _placed(self) -> list[tuple[int, int]]:
        """Places of results, each with the number of its site."""
        return [(at, number) for number, group in enumerate(self.groups) for at in group.places]

    def _respecified(self, spec: SiteSpec, touched: npt.NDArray[np.bool_]) -> "Reading":
        entries, total = self.entries._replace(ln=self.entries.ln.copy()), np.empty_like(self.total)
        read_again(spec, tuple(entries), touched, total)
        return replace(self, spec=spec, entries=entries, total=total)


def read(known: Known, observations: Observations) -> Reading:
    """Everything that was found, earlier results of the investigation included, read on a bank."""
    earlier = tuple(
        Observed(
            sample=f"{EARLIER} {number}",
            item=sample.item,
            detected=sample.result.result == "detected",
            batch=f"{EARLIER} {sample.result.taken_at.date()}",
        )
        for number, sample in enumerate(earlier_samples(known))
    )
    results = (*observations.results, *earlier)
    states = batch_states(replace(observations, results=results), known.figures)
    return read_results(known, results, states, read_facts(known, observations.materials))


def read_results(known: Known, results: tuple[Observed, ...], states: tuple[BatchState, ...], facts: Facts) -> Reading:
    """These results read on a bank, beside facts that were read before."""
    groups = site_groups(results)
    spec = _spec(known, groups, results, states[0].rates)
    entries, total = read_entries(known, results, groups, spec)
    return Reading(known, results, groups, states, spec, entries, total, facts)


def _spec(
    known: Known, groups: tuple[SiteGroup, ...], results: tuple[Observed, ...], rates: dict[str, float]
) -> SiteSpec:
    background = known.figures.number("background.colonies_mean")
    return site_spec(groups, results, rates, detection_model(known.figures), background)
