"""The chance that it is gone, read as the figures stand and again with what could not be measured set otherwise."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from swabwright.belief.believe import ENDS, RECOVERY, UNIFORM, at_end
from swabwright.belief.estimate import MOST_LETTERS, Alternative, said
from swabwright.belief.prior import Prior, make_prior
from swabwright.case.plan import Chance
from swabwright.detection.factor import site_factor
from swabwright.detection.observed import Observed
from swabwright.errors import NothingFits
from swabwright.inference.clearance import Aftermath, Array, Rates, with_past

Make = Callable[[], Aftermath]
NOTHING_DONE = "nothing was done that counts, so nothing can be gone"


@dataclass(frozen=True)
class Readings:
    """One aftermath, the same in other readings by name, and what every chance rests on."""

    plain: Aftermath
    others: tuple[tuple[str, Aftermath], ...]
    basis: str
    prior: str
    """Who set the prior, and what it rests on."""

    def after(self, results: Sequence[Observed], rates: Rates) -> "Readings":
        """All readings once these results are known; NothingFits only where the plain one explains nothing."""
        plain, cells = self.plain, self.plain.cells(tuple(one.item for one in results))

        def read(one: Aftermath) -> Aftermath | None:
            return _or_none(lambda: one.after(results, rates, cells if one.recovers_like(plain) else None))

        others = tuple((words, after) for words, one in self.others if (after := read(one)))
        return replace(self, plain=plain.after(results, rates, cells), others=others)

    @property
    def chance(self) -> Chance:
        """Chance that no niche remains anywhere, its range over structural copies widened to every reading."""
        # no reading and no history can say otherwise: a range would be one of nothing
        if not self.plain.states.gone.any():
            return Chance(value=0.0, low=0.0, high=0.0, basis=f"{NOTHING_DONE}; {self.basis}"[:MOST_LETTERS])
        others = [Alternative(words, one.chance_gone) for words, one in self.others]
        return said(self.plain.gone, self.basis, others)


def read_several(
    begun: Aftermath, results: Sequence[Observed], rates: Rates, prior: Prior, *, acted: Mapping[str, Aftermath]
) -> Readings:
    """The readings of an aftermath without a past, whose weights hold these results already, made under `prior`.

    acted: the same where actions do less or more, each by its words. Recovery low and high, and less and more of the
    prior even, re-weight the hypotheses; none is drawn anew.
    """
    known = begun.banks[0]
    plain, figures = with_past(begun, results, rates), known.figures
    others: list[tuple[str, Make]] = [(words, partial(with_past, one, results, rates)) for words, one in acted.items()]
    for end in ENDS:
        changed = at_end(figures, RECOVERY, end)
        factor = {name.split(".")[1]: changed.number(name) / figures.number(name) for name in RECOVERY}
        recovered = replace(begun, recovery=factor)
        others.append((f"recovery {end}", _recovered(plain, recovered, results, rates)))
    for end in ENDS:
        even = at_end(figures, (UNIFORM,), end)
        setting = known.under(even).setting
        other = make_prior(setting.plant, setting.catalogue, known.bank.source_names)
        words = f"{even.number(UNIFORM) * 100:.0f} in 100 of the prior even"
        others.append((words, _under_prior(plain, prior, other)))
    bank, count = known.bank, len(np.unique(begun.states.of))
    drawn = f"given at most two niches; {count:,} hypotheses, {bank.histories:,} histories, bank {bank.bank}"
    kept = tuple((words, one) for words, make in others if (one := _or_none(make)))
    return Readings(plain, kept, f"prior {prior.set_by}; {drawn}", f"{prior.set_by}: {prior.words}")


def _recovered(
    plain: Aftermath, begun: Aftermath, results: Sequence[Observed], rates: Rates
) -> Callable[[], Aftermath]:
    def make() -> Aftermath:
        changed = with_past(begun, results, rates)
        return _reweighed(changed, _explained(changed) / _explained(plain))

    return make


def _under_prior(plain: Aftermath, prior: Prior, other: Prior) -> Make:
    sources = plain.states.rows.sources
    return lambda: _reweighed(plain, other.of_sets(sources) / prior.of_sets(sources))


def _explained(one: Aftermath) -> Array:
    """Chance of all results before the actions, in every state."""
    factors = [site_factor(past, one.model) for past in one.past.values()]
    return np.asarray(np.prod(factors, axis=0) if factors else np.ones(len(one.states)))


def _reweighed(one: Aftermath, factor: Array) -> Aftermath:
    weight = one.states.rows.weight * factor
    if not (np.isfinite(weight).all() and weight.sum() > 0):
        raise NothingFits("no hypothesis explains the results in this reading")
    return replace(one, states=one.states.weighed(weight))


def _or_none(make: Make) -> Aftermath | None:
    # a reading whose extreme contradicts the results is bounded by them
    try:
        return make()
    except NothingFits:
        return None
