"""Where it lives after the results: every source alone and every pair of sources, in every history of a bank."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import fsum, gcd
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

from swabwright.belief.known import Known
from swabwright.belief.prior import Prior
from swabwright.belief.rows import HypothesisRows
from swabwright.belief.spread_of import Spread, spread_of
from swabwright.compute.executor import map_chunks
from swabwright.compute.keys import key_hash
from swabwright.errors import NothingFits
from swabwright.inference.batches import BatchState
from swabwright.inference.entries import WORKERS, chunks_of
from swabwright.inference.pair_kernels import fill_factors, weigh_pairs
from swabwright.inference.reading import Reading

Array = npt.NDArray[np.float64]
HISTORIES_A_PAIR = 120
"""Histories in which a pair is read, at least; they rotate with the pair."""
MOST_TURNS = 7
"""A pair is read in one history of so many, at least: where few histories bear the results, fewer would be too few."""
NEGLIGIBLE_STATE = 0.005
"""A state of the batches with less of the weight of single niches than this is left out."""


class PairDesign(NamedTuple):
    """Which histories read which pair: those whose number and the turns of both sources add up to a whole round.

    turn: (sources,), from the keys alone. order, starts: the sources by turn. histories: E.
    """

    weight: Array
    turn: npt.NDArray[np.int64]
    order: npt.NDArray[np.int64]
    starts: npt.NDArray[np.int64]
    histories: int


@dataclass(frozen=True)
class Posterior:
    """What is believed after the results, given one niche or two; weights are of prior times likelihood, not yet 1.

    single: (E, sources) of one niche there. paired: (E, sources) of two niches, one of them there. pairs: (sources,
    sources) over all histories, first source below second. states: the ways of the batches with their weight.
    """

    known: Known
    prior: Prior
    single: Array
    paired: Array
    pairs: Array
    states: tuple[tuple[BatchState, float], ...]

    @cached_property
    def total(self) -> float:
        """The weight of everything: the chance of the results over their chance were nothing there."""
        return fsum(self.single.sum(axis=1)) + 0.5 * fsum(self.paired.sum(axis=1))

    @cached_property
    def histories(self) -> HypothesisRows:
        """One row for each history, weighted by all its hypotheses: what a range of the posterior is made on."""
        weight = self.single.sum(axis=1) + 0.5 * self.paired.sum(axis=1)
        count = len(weight)
        sources = np.full((count, 3), -1, np.int32)
        return HypothesisRows(np.arange(count, dtype=np.int32), sources, weight / self.total, self.known.bank.copy)

    @property
    def effective_histories(self) -> float:
        """Kish's effective number of histories."""
        return self.histories.effective_size

    @property
    def marginal(self) -> Array:
        """Chance that a niche is at each source, alone or with another, shape (sources,)."""
        return np.asarray((self.single + self.paired).sum(axis=0) / self.total)

    @property
    def share(self) -> Array:
        """Share of each source, summing to 1: a pair counts half at each of its niches."""
        return np.asarray(self.shares_by_history.sum(axis=0) / self.total)

    @property
    def shares_by_history(self) -> Array:
        """Weight of each source in each history, (E, sources), not normalised."""
        return self.single + 0.5 * self.paired

    @property
    def alone(self) -> Array:
        """Chance that the only niche is at each source, shape (sources,); the rest remains if that one is removed."""
        return np.asarray(self.single.sum(axis=0) / self.total)

    @property
    def two_niches(self) -> float:
        """Chance of two niches."""
        return 0.5 * float(self.paired.sum()) / self.total

    @property
    def leading_share_error(self) -> float:
        """Standard error of the largest share, as histories were drawn one by one."""
        leading = int(np.argmax(self.share))
        weight = self.histories.weight * self.total
        residual = self.shares_by_history[:, leading] - self.share[leading] * weight
        count = len(weight)
        return float(np.sqrt(count / max(1, count - 1) * (residual**2).sum()) / self.total)

    def spread(self, by_history: Array) -> Spread:
        """A sum over some sources, (E,) of weights, as a chance with its range over structural copies."""
        rows = self.histories
        weight = np.where(rows.weight > 0, rows.weight * self.total, 1.0)
        return spread_of(np.clip(by_history / weight, 0.0, 1.0), rows)


def posterior(reading: Reading, prior: Prior, *, histories_a_pair: int | None = None) -> Posterior:
    """The posterior on a bank, exhaustive over single niches and pairs, given at most two niches.

    W1[c] = pi_1 w_c mean over histories of facts x results; W2[a, b] = pi_2 w_a w_b / (sum over ordered pairs) x the
    mean over the histories that read this pair, with the cells of both niches added at every site. Batches that may
    have been contaminated are summed over. Errors: NothingFits when no hypothesis explains facts and results.
    """
    each = usual_histories_a_pair(reading.known) if histories_a_pair is None else histories_a_pair
    parts = list(_by_state(reading, prior, each))
    single, paired, pairs = (np.asarray(sum(part[at] for _, part in parts), np.float64) for at in range(3))
    states = tuple((state, float(part[0].sum() + 0.5 * part[1].sum())) for state, part in parts)
    answer = Posterior(reading.known, prior, single, paired, pairs, states)
    if not answer.total > 0:
        raise NothingFits("no hypothesis explains the results together with the facts of the investigation")
    return answer


def _by_state(reading: Reading, prior: Prior, histories_a_pair: int) -> list[tuple[BatchState, tuple[Array, ...]]]:
    """Weights in every state of the batches that matters, each scaled by its chance and by its results elsewhere."""
    weighed = []
    for state in reading.states:
        own = reading.in_state(state)
        # how likely the results are with nothing there depends on the state too
        scale = state.chance * float(np.exp(own.spec.ln_nothing.sum() - reading.spec.ln_nothing.sum()))
        weighed.append((state, own, scale, scale * single_weights(own, prior)))
    total = sum(float(single.sum()) for *_, single in weighed)
    return [
        (state, (single, *(scale * part for part in pair_weights(own, prior, histories_a_pair))))
        for state, own, scale, single in weighed
        if float(single.sum()) >= NEGLIGIBLE_STATE * total
    ]


def usual_histories_a_pair(known: Known) -> int:
    """Histories in which each pair is read when nobody asks for a number; more on a larger bank."""
    return max(HISTORIES_A_PAIR, known.bank.histories // MOST_TURNS)


def single_weights(reading: Reading, prior: Prior) -> Array:
    """Weight of every hypothesis with one niche, shape (E, sources)."""
    histories, sources = reading.known.bank.histories, len(prior.weight)
    factors = np.empty(histories * sources)
    fill_factors(tuple(reading.facts.tables), factors)
    each = (factors * np.exp(reading.total)).reshape(histories, sources)
    return np.asarray(at_most_two(prior)[0] / histories * prior.weight * each)


def pair_weights(reading: Reading, prior: Prior, histories_a_pair: int) -> tuple[Array, Array]:
    """Weight of pairs by history and source, (E, sources), and by pair, (sources, sources)."""
    histories, sources = reading.known.bank.histories, len(prior.weight)
    by_history = np.zeros((histories, sources))
    design = pair_design(reading.known, prior, histories_a_pair)
    terms, facts = terms_of(reading), tuple(reading.facts.tables)

    def work(span: range) -> Array:
        by_pair = np.zeros((sources, sources))
        weigh_pairs((span.start, span.stop), terms, facts, tuple(design), (by_history, by_pair))
        return by_pair

    by_pair = np.zeros((sources, sources))
    for part in map_chunks(work, chunks_of(histories), WORKERS):
        by_pair += part
    return by_history, by_pair


def pair_design(known: Known, prior: Prior, histories_a_pair: int) -> PairDesign:
    """How pairs take turns through the histories; a pair's turn hangs on keys, never on the order of sites."""
    histories = known.bank.histories
    copies = int(known.bank.copy.max()) + 1
    turns = max(1, histories // histories_a_pair)
    # a round that shares a factor with the copies would show a pair only some of them
    while gcd(turns, copies) > 1:
        turns -= 1
    turn = np.array([key_hash(name) % turns for name in known.bank.source_names], np.int64)
    order = np.argsort(turn, kind="stable").astype(np.int64)
    starts = np.searchsorted(turn[order], np.arange(turns + 1)).astype(np.int64)
    chance = at_most_two(prior)[1]
    # the root, because a pair's prior is the product of two weights over the sum of all such products
    weight = prior.weight * np.sqrt(chance / prior.pair_sum) if prior.pair_sum > 0 else 0.0 * prior.weight
    return PairDesign(np.asarray(weight, np.float64), turn, order, starts, histories)


def at_most_two(prior: Prior) -> tuple[float, float]:
    """Prior chance of one and of two niches, given at most two."""
    one, two = float(prior.niches[0]), float(prior.niches[1])
    if prior.pair_sum <= 0:
        return 1.0, 0.0
    return one / (one + two), two / (one + two)


def terms_of(reading: Reading) -> tuple[Any, ...]:
    """What the compiled loops want of a reading."""
    return reading.spec, tuple(reading.entries), np.exp(reading.total)


def group_share(posterior: Posterior, members: Sequence[int]) -> Spread:
    """Share of a group of sources (a machine, a room) with its range."""
    return posterior.spread(posterior.shares_by_history[:, list(members)].sum(axis=1))
