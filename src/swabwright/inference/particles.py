"""Hypotheses drawn from a posterior, equally weighted: what next visits and clearance are reckoned on."""

import numpy as np
import numpy.typing as npt

from swabwright.belief.prior import Prior
from swabwright.belief.rows import HypothesisRows
from swabwright.compute.executor import map_chunks
from swabwright.inference.entries import WORKERS, chunks_of
from swabwright.inference.pair_kernels import pick_pairs
from swabwright.inference.posterior import (
    Posterior,
    pair_design,
    pair_weights,
    single_weights,
    terms_of,
    usual_histories_a_pair,
)
from swabwright.inference.reading import Reading

Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int32]
MIDDLE = 0.5
"""Systematic points lie in the middle of their strata, so that nothing is left to chance."""


def particles(reading: Reading, prior: Prior, after: Posterior, count: int) -> HypothesisRows:
    """About `count` hypotheses with one niche or two, each with the same weight, by systematic sampling.

    Every state of the batches gets its part; a hypothesis stands in the answer as often as its weight asks.
    """
    whole = sum(weight for _, weight in after.states)
    parts = [
        part
        for state, weight in after.states
        for part in _of_state(reading.in_state(state), prior, count * weight / whole)
    ]
    history = np.concatenate([history for history, _ in parts])
    sources = np.concatenate([sources for _, sources in parts])
    return HypothesisRows(history, sources, np.full(len(history), 1.0 / len(history)), reading.known.bank.copy[history])


def _of_state(reading: Reading, prior: Prior, count: float) -> list[tuple[IntArray, IntArray]]:
    single = single_weights(reading, prior)
    paired, _ = pair_weights(reading, prior, usual_histories_a_pair(reading.known))
    each = (float(single.sum()) + 0.5 * float(paired.sum())) / count
    return [_singles(single, each), *_pairs(reading, prior, paired, each)]


def _singles(weight: Array, each: float) -> tuple[IntArray, IntArray]:
    running = np.cumsum(weight.reshape(-1))
    at = np.searchsorted(running, _points(float(running[-1]), each), side="right")
    sources = np.full((len(at), 3), -1, np.int32)
    sources[:, 0] = at % weight.shape[1]
    return (at // weight.shape[1]).astype(np.int32), sources


def _pairs(reading: Reading, prior: Prior, paired: Array, each: float) -> list[tuple[IntArray, IntArray]]:
    """The pairs at every point of the running weight; each chunk of histories knows where its part begins."""
    design = tuple(pair_design(reading.known, prior, usual_histories_a_pair(reading.known)))
    terms, facts = terms_of(reading), tuple(reading.facts.tables)
    spans = chunks_of(reading.known.bank.histories)
    weights = [0.5 * float(paired[span.start : span.stop].sum()) for span in spans]
    points = _points(sum(weights), each)
    begins = np.cumsum([0.0, *weights])

    def work(number: int) -> tuple[IntArray, IntArray]:
        first, last = np.searchsorted(points, begins[number : number + 2])
        own = points[first:last] - begins[number]
        history, sources = np.zeros(len(own), np.int32), np.full((len(own), 3), -1, np.int32)
        span = spans[number]
        met = pick_pairs((span.start, span.stop), terms, facts, design, own, (history, sources))
        return history[:met], sources[:met]

    return list(map_chunks(work, range(len(spans)), WORKERS))


def _points(total: float, each: float) -> Array:
    """Points of systematic sampling, one for every `each` of the total."""
    return np.asarray((np.arange(round(total / each)) + MIDDLE) * each)
