"""Growth models of named organisms, from the catalogue's figures."""

from collections.abc import Callable, Mapping

from swabwright.detection.predictive.models import Cardinal, GrowthModel, SquareRoot
from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.figures import Figures

OPTIMUM = ".cardinal_optimum_c"


def square_root_of(figures: Figures, organism: str) -> SquareRoot:
    """The square-root model of an organism in rich food; an organism without figures is refused."""
    of = _prefix(figures, organism)
    return SquareRoot(
        slope=figures.number(f"{of}.growth_sqrt_slope"),
        minimum_c=figures.number(f"{of}.growth_minimum_c"),
        warmest_c=figures.number(f"{of}.growth_optimum_c"),
    )


def cardinal_of(figures: Figures, organism: str) -> Cardinal:
    """The cardinal model of an organism in rich food; an organism without figures is refused."""
    of = _prefix(figures, organism)
    return Cardinal(
        rate_at_optimum=figures.number(f"{of}.cardinal_rate_log10_per_day"),
        minimum_c=figures.number(f"{of}.cardinal_minimum_c"),
        optimum_c=figures.number(f"{of}{OPTIMUM}"),
        maximum_c=figures.number(f"{of}.cardinal_maximum_c"),
    )


MODELS: Mapping[str, Callable[[Figures, str], GrowthModel]] = {
    "square-root": square_root_of,
    "cardinal": cardinal_of,
}
"""The two models by name."""


def organisms_with_models(figures: Figures) -> tuple[str, ...]:
    """The organisms whose growth can be computed, in order of the alphabet."""
    return tuple(sorted(name.removesuffix(OPTIMUM) for name in figures.under("organism") if name.endswith(OPTIMUM)))


def _prefix(figures: Figures, organism: str) -> str:
    known = organisms_with_models(figures)
    if organism not in known:
        raise SwabwrightError(f"organism: no growth figures for '{organism}'{did_you_mean(organism, known)}")
    return f"organism.{organism}"
