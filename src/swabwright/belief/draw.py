"""Draws hypothesis rows: which histories, with a niche where, weighted so that they stand for the prior."""

from dataclasses import dataclass
from math import fsum

import numpy as np
import numpy.typing as npt

from swabwright.belief.prior import Prior
from swabwright.belief.rows import HypothesisRows
from swabwright.compute.draws import uniforms
from swabwright.compute.keys import counters, key_hash, stream_key
from swabwright.compute.philox import philox_words
from swabwright.spread.bank import ResponseBank
from swabwright.spread.purposes import BANKS

Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int32]
MOST_NICHES = 3
PURPOSE = 51


@dataclass(frozen=True)
class Drawn:
    """Ordered niche sets of one size with their importance weights, which sum to the prior of that size."""

    sources: IntArray
    weight: Array


def draw_rows(bank: ResponseBank, prior: Prior, count: int, seed: int) -> HypothesisRows:
    """About `count` weighted rows of a bank before any fact: one, two and three niches, every source represented.

    Sources are proposed half by the prior and half evenly, stratified; histories rotate, so that every structural
    copy is used alike; weights are prior / proposal and sum to 1. Order and names of sites change nothing.
    """
    # canonical order: what is drawn depends on keys, never on the order in which a plant lists its sites
    order = sorted(range(len(prior.source_names)), key=lambda place: prior.source_names[place])
    canonical = np.array(order, np.int32)
    sizes = row_counts(prior, count)
    drawn = [
        _draw_sets(prior, canonical, (niches, size), (bank, seed)) for niches, size in enumerate(sizes, 1) if size > 0
    ]
    sources = np.concatenate([part.sources for part in drawn])
    weight = np.concatenate([part.weight for part in drawn])
    history = np.concatenate([_rotate(bank, part, seed) for part in drawn])
    return HypothesisRows(history, sources, weight / fsum(weight), bank.copy[history])


def row_counts(prior: Prior, count: int) -> list[int]:
    """Rows for one, two and three niches: half by the prior, half evenly, none for what the prior excludes."""
    most = min(MOST_NICHES, int((prior.weight > 0).sum()))
    share = np.where(np.arange(MOST_NICHES) < most, prior.niches, 0.0)
    # pairs and triples are rare but carry the surprises: half the rows go evenly over the sizes
    mixed = np.where(share > 0, 0.5 * share / share.sum() + 0.5 / max(1, int((share > 0).sum())), 0.0)
    return [round(count * part) for part in mixed]


def proposal(weight: Array) -> Array:
    """Chance with which each source is proposed: half its prior weight, half even over the possible sources."""
    possible = weight > 0
    # the even half keeps sources that only the facts make likely from having no rows at all
    proposed = np.where(possible, 0.5 * weight + 0.5 / possible.sum(), 0.0)
    return np.asarray(proposed / fsum(proposed))


def _draw_sets(prior: Prior, order: IntArray, size: tuple[int, int], stream: tuple[ResponseBank, int]) -> Drawn:
    niches, count = size
    weight = prior.weight[order]
    proposed = proposal(weight)
    places = np.stack(
        [_stratified(proposed, count, _uniforms(stream, (niches, turn), count)) for turn in range(niches)]
    )
    # two niches at one source are one niche: such draws are dropped, and the weights below make up for it
    different = np.array([len(set(column)) == niches for column in places.T])
    places = places[:, different]
    raw = np.prod(weight[places] / proposed[places], axis=0)
    sources = np.full((places.shape[1], MOST_NICHES), -1, np.int32)
    sources[:, :niches] = order[places.T]
    if niches == 1:
        # the strata are known exactly, so the weight of a source does not depend on chance
        raw = weight[places[0]] / np.bincount(places[0], minlength=len(weight))[places[0]]
    return Drawn(sources, prior.niches[niches - 1] * raw / fsum(raw))


def _stratified(proposed: Array, count: int, draws: Array) -> npt.NDArray[np.int64]:
    """`count` places by systematic sampling of the proposal; the first turn in order, later turns shuffled."""
    points = (np.arange(count) + draws[0]) / count
    places = np.searchsorted(np.cumsum(proposed), points, side="right").clip(0, len(proposed) - 1)
    shuffled = places if draws[1] < 0 else places[np.argsort(draws[2:], kind="stable")]
    return np.asarray(shuffled)


def _uniforms(stream: tuple[ResponseBank, int], turn: tuple[int, int], count: int) -> Array:
    """The offset, a mark (-1 for the first turn, which stays in order) and one draw per row for the shuffle."""
    bank, seed = stream
    hashed = np.array([key_hash(f"rows {turn[0]} {turn[1]}")], np.uint64)
    words = philox_words(
        counters(hashed, np.arange(count + 1, dtype=np.uint64), 0), stream_key(seed, BANKS[bank.bank], PURPOSE)
    )
    draws = uniforms(words[:, 0])
    return np.concatenate([[draws[0], -1.0 if turn[1] == 0 else 1.0], draws[1:]])


def _rotate(bank: ResponseBank, drawn: Drawn, seed: int) -> IntArray:
    """The history of each row: rows of one first source take histories in turn, from a drawn start."""
    first = drawn.sources[:, 0]
    # neighbouring histories belong to different structural copies, so a run of rows touches them all alike
    changes = np.flatnonzero(np.diff(first, prepend=-2))
    starts = np.repeat(changes, np.diff(np.append(changes, len(first))))
    hashed = np.array([key_hash(bank.source_names[source]) for source in first[changes]], np.uint64)
    size = int((drawn.sources[0] >= 0).sum()) if len(first) else 1
    words = philox_words(counters(hashed, size, 1), stream_key(seed, BANKS[bank.bank], PURPOSE))[:, 0]
    offset = np.repeat(words % np.uint32(bank.histories), np.diff(np.append(changes, len(first))))
    return ((np.arange(len(first)) - starts + offset) % bank.histories).astype(np.int32)
