"""What 'not detected' in every sample would mean for whether it lives here."""

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from swabwright.belief.believe import Belief, incoming_sources, items_under
from swabwright.belief.draw import draw_rows
from swabwright.belief.estimate import alternatives_of, basis_of, said
from swabwright.belief.evidence import all_facts, weigh
from swabwright.belief.known import Known
from swabwright.belief.outcome import silence_ratio
from swabwright.belief.prior import incoming_figure
from swabwright.belief.spread_of import Spread, spread_of
from swabwright.case.plan import Chance, Presence
from swabwright.detection.items import Item
from swabwright.detection.phi import SMALLEST_CHANCE
from swabwright.errors import NothingFits, SwabwrightError

Array = npt.NDArray[np.float64]
INCOMING_ROWS = 4000
"""Hypotheses for 'only comes in with material': few sources, so few rows are enough."""


@dataclass(frozen=True)
class States:
    """Prior chances of the two states in which the organism is somewhere: lives here, only comes in with material."""

    lives_here: float
    incoming_only: float

    def after(self, ratio: float, incoming_ratio: float) -> float:
        """Chance that it lives here after silence; the ratios are P(silent | state) / P(silent | absent).

        b N / (b N + b_in N_in + (1 - b - b_in) N0), divided by N0; exactly b when both ratios are 1.
        """
        # written as departures from 1, so that silence that means nothing leaves the prior exactly as it was
        total = 1.0 + self.lives_here * (ratio - 1.0) + self.incoming_only * (incoming_ratio - 1.0)
        return float(np.clip(self.lives_here * ratio / max(total, SMALLEST_CHANCE), 0.0, 1.0))


def states_of(known: Known) -> States:
    """Prior chances that it lives here, as stated, and that it only comes in: stated, or by the raw material."""
    stated = known.investigation.presence
    if stated.incoming_only is not None and stated.lives_here + stated.incoming_only > 1:
        raise SwabwrightError(
            "investigation.json: presence: lives_here and incoming_only exclude each other, "
            "so their sum may not exceed 1; lower one of them"
        )
    may_carry = any(line.raw_material_may_carry for line in known.setting.plant.lines)
    usual = min(known.figures.number(incoming_figure(may_carry)), 1.0 - stated.lives_here)
    return States(stated.lives_here, usual if stated.incoming_only is None else stated.incoming_only)


def where_it_lives(belief: Belief) -> Belief:
    """The belief given that a niche is in the plant, drawn or not; the same object each time."""
    return belief.living


def not_detected_means(belief: Belief, items: tuple[Item, ...]) -> Presence:
    """The chance that it lives here before any of these samples, and after 'not detected' in all of them.

    `before` is the stated prior, which already holds the evidence; `after` rests on the belief's rows in full form:
    background rate and false positives counted, given each site's earlier results.
    """
    states = states_of(belief.known)
    living = belief.living
    incoming = _incoming_ratio(belief, items) if states.incoming_only > 0 else 1.0

    def per_row(other: Belief) -> Array:
        return np.clip(_ratio(other, items), 0.0, 1.0)

    inside = spread_of(per_row(living), living.rows)
    # unclipped here: given a past detection, silence can be likelier with the organism than without
    ratio = _mean(_ratio(living, items), living)
    value, *ends = (states.after(one, incoming) for one in (ratio, inside.low, inside.high))
    others = [replace(one, value=states.after(one.value, incoming)) for one in alternatives_of(living, per_row)]
    spread = Spread(value, min(*ends, value), max(*ends, value), inside.uncertain)
    after = said(spread, basis_of(living), others)
    return Presence(before=_before(belief.known, states), after=after)


def _incoming_only(belief: Belief) -> Belief:
    """The belief given that it only comes in with material; before the facts where such a state explains none."""
    incoming = incoming_sources(belief.known)
    prior = belief.prior.given(incoming)
    before = draw_rows(belief.known.bank, prior, INCOMING_ROWS, belief.known.investigation.seed)
    try:
        rows = weigh(before, all_facts(belief.known, before))
    # the stated prior already holds the facts; a state that explains none of them is taken as it was before
    except NothingFits:
        rows = before
    return Belief(belief.known, prior, before, rows)


def _incoming_ratio(belief: Belief, items: tuple[Item, ...]) -> float:
    if not (belief.prior.weight[incoming_sources(belief.known)] > 0).any():
        return 1.0
    only = _incoming_only(belief)
    return _mean(_ratio(only, items), only)


def _ratio(belief: Belief, items: tuple[Item, ...]) -> Array:
    return silence_ratio(belief.known, belief.rows, items_under(belief.known, items))


def _mean(values: Array, belief: Belief) -> float:
    weight = belief.rows.weight
    return float((weight * values).sum() / weight.sum())


def _before(known: Known, states: States) -> Chance:
    stated = states.lives_here
    basis = f"stated by {known.investigation.presence.set_by} before any of these samples; no range was stated"
    return Chance(value=stated, low=stated, high=stated, basis=basis)
