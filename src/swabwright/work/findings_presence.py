"""Whether it lives here at all, when nothing was detected."""

from dataclasses import replace

import numpy as np

from swabwright.belief.estimate import Alternative, said
from swabwright.belief.presence import States, states_of
from swabwright.belief.spread_of import Spread, spread_of
from swabwright.case.plan import Chance, Presence
from swabwright.inference.facts import read_facts
from swabwright.inference.posterior import Posterior, posterior
from swabwright.inference.quantities import Parts, all_of, niche_within
from swabwright.work.findings_read import ReadStrain
from swabwright.work.read_case import ReadCase


def presence_of(read: ReadStrain) -> Presence | None:
    """The chance that it lives here before and after these results; None when something was detected.

    The stated prior already holds the facts and the earlier results, so only the new results move it: by the chance
    of all of them if it lives here, over their chance with nothing there; and the same if it only comes in.
    """
    if read.one.observations.anything_detected:
        return None
    states, incoming = states_of(read.one.known), read.spots.incoming
    living = tuple(at for at in range(len(read.spots.every)) if at not in incoming)
    after = _after(read.one, states, living)
    others = [Alternative(words, _after(one, states, living).value) for words, one in read.others]
    stated = read.one.known.investigation.presence
    basis = f"stated by {stated.set_by} before any of these samples; no range was stated"
    before = Chance(value=states.lives_here, low=states.lives_here, high=states.lives_here, basis=basis)
    return Presence(before=before, after=said(after, read.basis, others))


def _after(one: ReadCase, states: States, living: tuple[int, ...]) -> Spread:
    old, lives = _before(one), niche_within(living)
    with_new, without = lives(one.after).part, lives(old).part
    incoming = _ratio(_only_incoming(one.after, living), _only_incoming(old, living))
    rows = replace(old.histories, weight=without / without.sum())
    moved = np.clip(with_new / np.where(without > 0, without, 1.0), 0.0, 1.0)
    inside = spread_of(moved, rows)
    # unclipped here: given a past detection, silence can be likelier with the organism than without
    ratio = float(with_new.sum() / without.sum())
    value, *ends = (states.after(each, incoming) for each in (ratio, inside.low, inside.high))
    return Spread(value, min(*ends, value), max(*ends, value), inside.uncertain)


def _before(one: ReadCase) -> Posterior:
    """The posterior of facts and earlier results alone."""
    new = frozenset(result.sample for result in one.observations.results)
    return posterior(replace(one.reading.without(new), facts=read_facts(one.known, ())), one.prior)


def _only_incoming(after: Posterior, living: tuple[int, ...]) -> Parts:
    return Parts(all_of(after) - niche_within(living)(after).part, all_of(after))


def _ratio(new: Parts, old: Parts) -> float:
    """How much less likely the results are in this state than with nothing there; 1 where the facts rule it out."""
    before = float(old.part.sum())
    return float(new.part.sum()) / before if before > 0 else 1.0
