"""Truths from the engine's own model: a hypothesis of a bank that reads no result, and what its samples would show."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import fsum

import numpy as np
import numpy.typing as npt

from swabwright.belief.evidence import all_facts, weigh
from swabwright.belief.known import Known
from swabwright.belief.outcome import cells_of
from swabwright.belief.prior import Prior
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.items import Item
from swabwright.detection.model import DetectionModel, detection_model
from swabwright.detection.observed import Observations, Observed
from swabwright.inference.posterior import at_most_two

Array = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]
CANDIDATES = 20_000
"""Hypotheses before the facts, from which truths are picked by how well they explain the facts; more where few do."""
MOST_CANDIDATES = 2_000_000
EFFECTIVE_A_TRUTH = 20
"""Effective hypotheses for each truth, so that hardly any is picked twice."""


@dataclass(frozen=True)
class OwnTruths:
    """Hypotheses taken as true, one a row, on the bank that they were drawn from."""

    known: Known
    rows: HypothesisRows

    def niches(self, row: int) -> tuple[int, ...]:
        """Where the niches of a truth are, as sources of its bank."""
        return tuple(int(source) for source in self.rows.sources[row] if source >= 0)


def draw_truths(known: Known, prior: Prior, count: int, random: np.random.Generator) -> OwnTruths:
    """So many truths with one niche or two, by the prior and the facts of the investigation; histories at random."""
    weighed = _explaining(known, prior, count, random)
    picked = random.choice(len(weighed), size=count, p=weighed.weight / fsum(weighed.weight))
    rows = HypothesisRows(
        weighed.history[picked], weighed.sources[picked], np.full(count, 1.0 / count), weighed.copy[picked]
    )
    return OwnTruths(known, rows)


def _explaining(known: Known, prior: Prior, count: int, random: np.random.Generator) -> HypothesisRows:
    """Hypotheses weighted by the facts, so many that the truths picked from them hardly repeat each other."""
    candidates = CANDIDATES
    while True:
        rows = _prior_rows(known, prior, candidates, random)
        weighed = weigh(rows, all_facts(known, rows))
        if weighed.effective_size >= EFFECTIVE_A_TRUTH * count or candidates >= MOST_CANDIDATES:
            return weighed
        candidates *= 4


def _prior_rows(known: Known, prior: Prior, count: int, random: np.random.Generator) -> HypothesisRows:
    sources = np.full((count, 3), -1, np.int32)
    sources[:, 0] = random.choice(len(prior.weight), size=count, p=prior.weight)
    paired = np.flatnonzero(random.random(count) < at_most_two(prior)[1])
    sources[paired, :2] = _pairs(prior, len(paired), random)
    history = random.integers(known.bank.histories, size=count).astype(np.int32)
    return HypothesisRows(history, sources, np.full(count, 1.0 / count), known.bank.copy[history])


def _pairs(prior: Prior, count: int, random: np.random.Generator) -> npt.NDArray[np.int64]:
    """Ordered pairs in proportion to the product of both weights: drawn apart, and again where both are the same."""
    pairs = random.choice(len(prior.weight), size=(count, 2), p=prior.weight)
    while (same := np.flatnonzero(pairs[:, 0] == pairs[:, 1])).size:
        pairs[same] = random.choice(len(prior.weight), size=(same.size, 2), p=prior.weight)
    return pairs


def draw_results(truths: OwnTruths, items: tuple[Item, ...], random: np.random.Generator) -> BoolArray:
    """Whether each sample of one batch is detected in each truth, shape (items, truths).

    What the model misses about a site and whether it is explained at all are drawn once for a site, the batch's own
    contamination once for a truth; reach, hits and recovery are those of the truth's history.
    """
    cells = cells_of(truths.known, truths.rows, items)
    model = detection_model(truths.known.figures)
    false = _false_positives(truths, model, random)
    found = np.zeros(cells.shape, np.bool_)
    for places in _by_site(items):
        found[places] = _site_found(cells[places], (model, false), random)
    return found


def _false_positives(truths: OwnTruths, model: DetectionModel, random: np.random.Generator) -> Array:
    """Chance of each truth's batch to show what is not there, (truths,)."""
    figure, count = truths.known.figures.number, len(truths.rows)
    dirty = random.random(count) < figure("batch.contaminated")
    rate = random.beta(figure("batch.rate_beta_a"), figure("batch.rate_beta_b"), size=count)
    return np.where(dirty, rate, model.false_positive)


def _by_site(items: Sequence[Item]) -> Iterator[list[int]]:
    places: dict[str, list[int]] = defaultdict(list)
    for place, item in enumerate(items):
        places[item.shared_key].append(place)
    return (places[key] for key in sorted(places))


def _site_found(
    cells: npt.NDArray[np.float32], how: tuple[DetectionModel, Array], random: np.random.Generator
) -> BoolArray:
    """Results of the samples of one site in each truth, (samples, truths)."""
    model, false = how
    count = cells.shape[1]
    missed = np.exp(model.sigma * random.standard_normal(count))
    explained = 1.0 - (1.0 - false) * np.exp(-cells.astype(np.float64) * missed)
    background = random.beta(model.background_a, model.background_b, size=count)
    unexplained = random.random(count) < model.unexplained
    return np.asarray(random.random(cells.shape) < np.where(unexplained, background, explained))


def as_observed(items: Sequence[Item], found: BoolArray, batch: str) -> Observations:
    """The results of one truth as the engine reads them; samples are numbered in the order of the items."""
    results = tuple(
        Observed(f"{batch} {place:03d}", item, bool(one), batch)
        for place, (item, one) in enumerate(zip(items, found, strict=True))
    )
    return Observations(results)
