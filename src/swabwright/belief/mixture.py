"""Rows drawn half by the prior and half where the facts point, weighted so that they stand for the prior alone."""

from dataclasses import replace
from math import fsum

import numpy as np
import numpy.typing as npt

from swabwright.belief.draw import PURPOSE, draw_rows, proposal, row_counts
from swabwright.belief.evidence import all_facts
from swabwright.belief.focus import Focus, focus_of, focused_sets
from swabwright.belief.known import Known
from swabwright.belief.prior import Prior
from swabwright.belief.rows import HypothesisRows
from swabwright.compute.keys import stream_key
from swabwright.spread.purposes import BANKS

Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int32]


def mixed_rows(known: Known, prior: Prior, count: int) -> HypothesisRows:
    """About `count` rows weighted by the prior alone: half drawn by `draw_rows`, half where the facts point.

    Every row is weighted by prior / (the density of both halves together), so no row can weigh much more than in a
    draw by the prior, and rows that explain the facts are many (Owen and Zhou, J Am Stat Assoc 2000;95:135). Without
    facts all rows are drawn by the prior.
    """
    facts = all_facts(known, every_single(known, prior))
    if not facts:
        return draw_rows(known.bank, prior, count, known.investigation.seed)
    focus = focus_of(facts, prior, known.bank.histories)
    half = draw_rows(known.bank, prior, count // 2, known.investigation.seed)
    parts = [_stratum(known, prior, focus, (half, niches, size)) for niches, size in _sizes(prior, count // 2)]
    history, sources, weight = (np.concatenate(part) for part in zip(*parts, strict=True))
    return HypothesisRows(history, sources, weight / fsum(weight), known.bank.copy[history])


def every_single(known: Known, prior: Prior) -> HypothesisRows:
    """One row for every history and source, history by history, by the prior."""
    histories, sources = known.bank.histories, len(prior.source_names)
    history = np.repeat(np.arange(histories, dtype=np.int32), sources)
    at = np.full((histories * sources, 3), -1, np.int32)
    at[:, 0] = np.tile(np.arange(sources, dtype=np.int32), histories)
    return HypothesisRows(history, at, np.tile(prior.weight, histories) / histories, known.bank.copy[history])


def _sizes(prior: Prior, count: int) -> list[tuple[int, int]]:
    return [(niches, size) for niches, size in enumerate(row_counts(prior, count), 1) if size > 0]


def _stratum(
    known: Known, prior: Prior, focus: Focus, size: tuple[HypothesisRows, int, int]
) -> tuple[IntArray, IntArray, Array]:
    """Histories, sources and weights of the rows of both halves with so many niches; weights sum to their prior."""
    half, niches, count = size
    own = (half.sources >= 0).sum(axis=1) == niches
    history, sources = half.history[own], half.sources[own]
    plain, focused = len(history), 0
    if focus.total(niches) > 0:
        key = stream_key(known.investigation.seed, BANKS[known.bank.bank], PURPOSE)
        more_history, more_sources = focused_sets(focus, niches, count, key)
        history, sources = np.concatenate([history, more_history]), np.concatenate([sources, more_sources])
        focused = len(more_history)
    density = plain * _plain_density(prior, sources, niches) / known.bank.histories
    if focused:
        density = density + focused * focus.density(history, sources, niches)
    weight = prior.of_sets(sources) / density
    return _merged(history, sources, prior.niches[niches - 1] * weight / fsum(weight), focus.order)


def _merged(history: IntArray, sources: IntArray, weight: Array, order: IntArray) -> tuple[IntArray, IntArray, Array]:
    """Rows drawn more than once made one, their weights added; in order of history and canonical place."""
    place = np.append(np.argsort(order), -1).astype(np.int64)[sources] + 1
    name = history.astype(np.int64)
    for column in place.T:
        name = name * (len(order) + 1) + column
    _, first, group = np.unique(name, return_index=True, return_inverse=True)
    return history[first], sources[first], np.asarray(np.bincount(group, weight), np.float64)


def _plain_density(prior: Prior, sources: IntArray, niches: int) -> Array:
    """Density of ordered source sets under the proposal of `draw_rows`, given so many niches."""
    proposed = replace(prior, weight=proposal(prior.weight), niches=np.ones(3))
    return proposed.of_sets(sources)
