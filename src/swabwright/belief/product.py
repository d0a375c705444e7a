"""What tests of the product say: all tests of one line and day together, as they share one clumped load."""

from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt
from scipy.special import gammainc, gammainccinv, gammaincinv, gammaln

from swabwright.plant.figures import Figures

Array = npt.NDArray[np.float64]
NODES = 256
LOAD_NODES_PER_DECADE = 24
NEGLIGIBLE = 1e-12


@dataclass(frozen=True)
class ProductModel:
    """Figures of a product test: clumping, sensitivity, false positives, and what stays unexplained."""

    dispersion: float
    sensitivity: float
    unexplained: float
    background: float
    false_positive: float


@dataclass(frozen=True)
class DayTests:
    """Tests of one line and day: share of the day's product in each, what was found, and their increments.

    share: (T,) kg tested / kg made. detected: (T,). increments: the fewest of any test: the more clumped reading.
    """

    share: Array
    detected: npt.NDArray[np.bool_]
    increments: int


def product_model(figures: Figures) -> ProductModel:
    """The figures of a product test from the registry."""
    names = ("dispersion", "sensitivity", "unexplained", "background", "false_positive")
    return ProductModel(**{name: figures.number(f"product_test.{name}") for name in names})


def silent_product(cells: Array, increments: int, model: ProductModel) -> Array:
    """Chance that one test of these expected cells finds nothing, in closed form.

    eps (1 - q0) + (1 - eps)(1 - fp)[1 - se + se (1 + lambda / (n k))^(-n k)]: cells clumped over n independent
    increments as a negative binomial with dispersion k each.
    """
    shape = increments * model.dispersion
    missed = 1.0 - model.sensitivity + model.sensitivity * np.exp(-shape * np.log1p(cells / shape))
    explained = (1.0 - model.false_positive) * missed
    return np.asarray(model.unexplained * (1.0 - model.background) + (1.0 - model.unexplained) * explained)


def day_factor(load: Array, tests: DayTests, model: ProductModel) -> Array:
    """Chance of all results of one line and day in each row, for the day's load in CFU, shape (S,).

    The tests share one gamma draw, mean 1, so that repeated tests of one day do not count as independent days.
    """
    # the usual case has a closed form
    if len(tests.share) == 1:
        silent = silent_product(load * tests.share[0], tests.increments, model)
        return 1.0 - silent if tests.detected[0] else silent
    nothing = _joint(np.zeros(1), tests, model)[0]
    if not load.any():
        return np.full(load.shape, nothing)
    lowest, highest = np.log10(load[load > 0].min()), np.log10(load.max())
    # all rows share one curve of the day's load: the integral is made on a grid, not for every row
    grid = np.linspace(lowest, highest, int((highest - lowest) * LOAD_NODES_PER_DECADE) + 2)
    positive = np.log10(np.where(load > 0, load, 1.0))
    return np.asarray(np.where(load > 0, np.interp(positive, grid, _joint(10.0**grid, tests, model)), nothing))


def _joint(load: Array, tests: DayTests, model: ProductModel) -> Array:
    found = int(tests.detected.sum())
    silent = len(tests.share) - found
    unexplained = model.unexplained * model.background**found * (1.0 - model.background) ** silent
    ratio, weight, below = _gamma_rule(tests, model, float(load.max(initial=0.0)))
    inside = _given_ratio(load[:, None] * ratio[None, :], tests, model) @ weight
    return unexplained + (1.0 - model.unexplained) * (inside + below * _given_ratio(0.0 * load, tests, model))


def _given_ratio(load: Array, tests: DayTests, model: ProductModel) -> Array:
    chance = np.ones_like(load)
    for share, found in zip(tests.share, tests.detected, strict=True):
        missed = (1.0 - model.false_positive) * (1.0 + model.sensitivity * np.expm1(-load * share))
        chance = chance * (1.0 - missed if found else missed)
    return chance


@cache
def _legendre() -> tuple[Array, Array]:
    return np.polynomial.legendre.leggauss(NODES)


def _gamma_rule(tests: DayTests, model: ProductModel, most: float) -> tuple[Array, Array, float]:
    """Ratios and weights of Gauss-Legendre quadrature in the logarithm of the gamma draw, and the mass below them."""
    shape = tests.increments * model.dispersion
    # below this ratio no test meets a cell, so the rest of the mass is known without integrating
    rarest = float(gammaincinv(shape, NEGLIGIBLE)) / shape
    lowest = np.log(max(NEGLIGIBLE / max(most * float(tests.share.max()), 1.0), rarest))
    highest = np.log(float(gammainccinv(shape, NEGLIGIBLE)) / shape)
    nodes, weights = _legendre()
    x = 0.5 * (highest - lowest) * nodes + 0.5 * (highest + lowest)
    ln_density = shape * (x + np.log(shape)) - shape * np.exp(x) - gammaln(shape)
    weight = 0.5 * (highest - lowest) * weights * np.exp(ln_density)
    below = float(gammainc(shape, shape * np.exp(lowest)))
    return np.exp(x), weight * (1.0 - below) / weight.sum(), below
