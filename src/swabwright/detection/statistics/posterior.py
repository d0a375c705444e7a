"""What results say of the prevalence by Bayes: its posterior, for a known or an uncertain test."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.special import betainc, betaincc, betaincinv, gammaln, xlog1py, xlogy

from swabwright.detection.statistics.answer import Interval, per_100
from swabwright.detection.statistics.arrays import Array
from swabwright.detection.statistics.beta_nodes import beta_nodes
from swabwright.detection.statistics.checks import (
    ArgumentRefused,
    count,
    inner_probability,
    positive,
    probability,
    within,
)
from swabwright.detection.statistics.performance import Performance, Validation

GRID = 1001
"""Places laid evenly over the prevalence, and as many evenly over the prior, at which the posterior is computed."""
ZOOMS = 3
"""Times that the grid is laid again over where the posterior lives."""
NODES = 24
"""Gauss-Jacobi nodes for each of sensitivity and specificity."""
NEGLIGIBLE = 1e-14
LEAST_PRIOR, MOST_PRIOR = 1e-6, 1e9
"""Beyond these a beta prior is a single point or two, which no result moves."""


@dataclass(frozen=True)
class BetaPrior:
    """What is believed of a share beforehand, as a beta distribution; (1, 1) is flat, (0.5, 0.5) is Jeffreys'."""

    a: float = 1.0
    b: float = 1.0

    def __post_init__(self) -> None:
        for name, value in (("prior a", self.a), ("prior b", self.b)):
            if not LEAST_PRIOR <= positive(name, value) <= MOST_PRIOR:
                raise ArgumentRefused(name, f"{value:g} lies outside {LEAST_PRIOR:g} to {MOST_PRIOR:g}")


@dataclass(frozen=True)
class Posterior:
    """The prevalence after the results: mean, median, equal-tailed interval, and its distribution."""

    value: float
    """The mean."""
    median: float
    interval: Interval
    sentence: str
    places: Array
    cumulative: Array

    def below(self, prevalence: float) -> float:
        """The probability that the prevalence is below `prevalence`, 0 to 1."""
        probability("prevalence", prevalence)
        return float(np.interp(prevalence, self.places, self.cumulative, left=0.0, right=1.0))


def posterior_known_test(detected: int, samples: int, test: Performance, prior: BetaPrior, level: float) -> Posterior:
    """The prevalence after `detected` of `samples`, for known sensitivity and specificity.

    Likelihood: binomial in P Se + (1 - P)(1 - Sp); prior: beta; integrated over P numerically. Level: 0 to 1, both
    ends excluded. Source: Rogan and Gladen's model with Bayes' theorem (Gelman et al., Bayesian Data Analysis).
    Errors: ArgumentRefused by name.
    """

    def likelihood(prevalence: Array) -> Array:
        return _binomial_log(detected, samples, test.apparent(1.0) * prevalence + test.apparent(0.0) * (1 - prevalence))

    _look_at(detected, samples, level)
    return _posterior(likelihood, prior, level, f"Detected in {detected} of {samples} samples")


def posterior_uncertain_test(
    detected: int, samples: int, validation: Validation, prior: BetaPrior, level: float
) -> Posterior:
    """The prevalence after `detected` of `samples`, when the test is known only from a validation study.

    Sensitivity and specificity get the beta posteriors of the study over flat priors and are integrated out by
    Gauss-Jacobi quadrature. Source: Joseph, Gyorkos and Coupal, Am J Epidemiol 1995;141:263-272 (one test).
    Errors: ArgumentRefused by name.
    """
    _look_at(detected, samples, level)
    positives, weights = _apparent_nodes(validation)

    def likelihood(prevalence: Array) -> Array:
        apparent = positives[:, 0, None] * prevalence + positives[:, 1, None] * (1 - prevalence)
        logs = _binomial_log(detected, samples, apparent)
        # Taken out before the exponential, put back after it: most of these chances are too small for a float.
        top = logs.max()
        mixed: Array = np.log(np.maximum(weights @ np.exp(logs - top), np.finfo(float).tiny)) + top
        return mixed

    return _posterior(likelihood, prior, level, f"Detected in {detected} of {samples} samples, the test uncertain")


def _look_at(detected: int, samples: int, level: float) -> None:
    count("samples", samples)
    within("detected", detected, "samples", samples)
    inner_probability("level", level)


def _binomial_log(detected: int, samples: int, apparent: Array) -> Array:
    constant = gammaln(samples + 1) - gammaln(detected + 1) - gammaln(samples - detected + 1)
    logs: Array = constant + xlogy(detected, apparent) + xlog1py(samples - detected, -apparent)
    return logs


def _apparent_nodes(validation: Validation) -> tuple[Array, Array]:
    """Pairs of the positive shares with and without contamination, and the weight of each pair."""
    se, se_weight = _of_study(validation.detected, validation.contaminated)
    sp, sp_weight = _of_study(validation.not_detected, validation.uncontaminated)
    pairs = np.stack(np.meshgrid(se, 1.0 - sp, indexing="ij"), axis=-1).reshape(-1, 2)
    return pairs, np.outer(se_weight, sp_weight).ravel()


def _of_study(right: int, tested: int) -> tuple[Array, Array]:
    """Places and weights of the share behind `right` of `tested`, over a flat prior."""
    return beta_nodes(right + 1.0, tested - right + 1.0, NODES)


def _posterior(likelihood: Callable[[Array], Array], prior: BetaPrior, level: float, words: str) -> Posterior:
    # A study of thousands lives between two places of the first grid; each zoom looks closer at where it does.
    edges = np.array([0.0, 1.0])
    for _ in range(ZOOMS):
        edges, weights = _weights(likelihood, prior, edges[0], edges[-1])
        lives = np.flatnonzero(weights > NEGLIGIBLE * weights.max())
        first, last = max(lives[0] - 1, 0), min(lives[-1] + 2, edges.size - 1)
        edges, weights = edges[first : last + 1], weights[first:last]
    cumulative = np.concatenate([[0.0], np.cumsum(weights)]) / weights.sum()
    tail = (1 - level) / 2
    median, bottom, top = np.interp([0.5, tail, 1 - tail], cumulative, edges).tolist()
    mean = float(weights @ (edges[1:] + edges[:-1]) / 2 / weights.sum())
    told = f"(posterior, level {level:g}, prior beta({prior.a:g}, {prior.b:g}))"
    sentence = f"{words}: {per_100(mean)} units are contaminated, between {per_100(bottom)} and {per_100(top)} {told}."
    return Posterior(mean, median, Interval(bottom, top, level, "posterior"), sentence, edges, cumulative)


def _weights(likelihood: Callable[[Array], Array], prior: BetaPrior, low: float, high: float) -> tuple[Array, Array]:
    """Edges of cells between two prevalences, and the posterior weight of each but for a constant factor."""
    # Even steps of prevalence where the prior is thin, even steps of the prior where it is piled up at an end.
    first, last = betainc(prior.a, prior.b, [low, high]).tolist()
    quantiles = betaincinv(prior.a, prior.b, np.linspace(first, last, GRID))
    edges = np.unique(np.concatenate([np.linspace(low, high, GRID), np.clip(quantiles, low, high)]))
    logs = likelihood((edges[1:] + edges[:-1]) / 2)
    return edges, np.exp(logs - logs.max()) * _prior_of_cells(edges, prior)


def _prior_of_cells(edges: Array, prior: BetaPrior) -> Array:
    """The prior weight of each cell, from whichever tail is nearer so that small ones do not vanish."""
    below, above = betainc(prior.a, prior.b, edges), betaincc(prior.a, prior.b, edges)
    weights: Array = np.where(below[1:] < 0.5, np.diff(below), -np.diff(above))
    return weights
