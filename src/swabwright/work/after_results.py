"""What is believed once results are in, in the form in which a visit is planned and judged."""

from dataclasses import replace

import numpy as np
import numpy.typing as npt

from swabwright.belief.believe import Belief, incoming_sources
from swabwright.belief.evidence import all_facts
from swabwright.belief.known import Known
from swabwright.belief.presence import states_of
from swabwright.case.investigation import Presence
from swabwright.detection.choices import build_items
from swabwright.detection.observed import Observations, Observed
from swabwright.detection.phi import SMALLEST_CHANCE
from swabwright.inference.labels import merged
from swabwright.inference.particles import particles
from swabwright.inference.posterior import Posterior, posterior
from swabwright.inference.reading import read
from swabwright.work.read_case import ReadCase
from swabwright.work.simulated import Simulated

Array = npt.NDArray[np.float64]
MOST_LETTERS = 380


def simulated_after(one: ReadCase) -> Simulated:
    """The belief after the results on their bank, and every item of the visit on it."""
    return Simulated(belief_after(one), build_items(one.opened.setting, one.known.bank))


def belief_after(one: ReadCase) -> Belief:
    """Hypotheses drawn from the posterior as a belief that can be read again with other figures.

    Its rows before the facts are weighted so that the facts, results among them, bring them to the posterior; every
    later sample is read given the results at its site.
    """
    count = round(one.opened.figures.number("inference.particles"))
    rows = merged(particles(one.reading, one.prior, one.after, count))
    investigation = one.known.investigation.model_copy(update={"presence": presence_after(one)})
    known = replace(one.known, investigation=investigation, since=_since(one))
    explained = np.prod([fact.factor for fact in all_facts(known, rows)], axis=0)
    before = rows.weight / np.maximum(explained, SMALLEST_CHANCE)
    return Belief(known, one.prior, replace(rows, weight=before / before.sum()), rows)


def _since(one: ReadCase) -> tuple[Observed, ...]:
    """The results of visits, the chance of a false detection holding that of each batch over all its states."""
    total = sum(weight for _, weight in one.after.states)
    rates = {
        batch: sum(weight * state.rates[batch] for state, weight in one.after.states) / total
        for batch in {found.batch for found in one.observations.results}
    }
    return tuple(
        replace(found, false_positive=1.0 - (1.0 - found.false_positive) * (1.0 - rates[found.batch]))
        for found in one.observations.results
    )


def presence_after(one: ReadCase) -> Presence:
    """The chance that it lives here, and that it only comes in, after the results; from what was stated before them.

    b N / (b N + b_in N_in + rest), N the chance of the results in a state over that were nothing there.
    """
    stated = states_of(one.known)
    facts_alone = posterior(read(one.known, Observations(())), one.prior)
    lives, comes_in = _ratios(one.known, one.after, facts_alone)
    here, incoming = stated.lives_here * lives, stated.incoming_only * comes_in
    total = here + incoming + 1.0 - stated.lives_here - stated.incoming_only
    said = f"{one.known.investigation.presence.set_by}; then moved by {len(one.observations.results)} results"
    return Presence(
        lives_here=min(1.0, here / total), incoming_only=min(1.0 - min(1.0, here / total), incoming / total),
        set_by=said[:MOST_LETTERS],
    )  # fmt: skip


def _ratios(known: Known, after: Posterior, before: Posterior) -> tuple[float, float]:
    """Chance of the results over that were nothing there: if it lives here, and if it only comes in."""
    incoming = incoming_sources(known)
    lives, comes_in = _split(after, incoming)
    lives_before, comes_in_before = _split(before, incoming)
    return lives / max(lives_before, SMALLEST_CHANCE), (
        comes_in / comes_in_before if comes_in_before > 0 else 1.0
    )  # fmt: skip


def _split(one: Posterior, incoming: npt.NDArray[np.bool_]) -> tuple[float, float]:
    """Weight of hypotheses with a niche in the plant, and of those in which it only comes in."""
    only = float(one.single[:, incoming].sum() + one.pairs[np.ix_(incoming, incoming)].sum())
    return one.total - only, only
