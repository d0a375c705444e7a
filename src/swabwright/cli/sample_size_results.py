"""`sample-size interval | prevalence | ...`: what results say."""

import click

from swabwright.cli.sample_size_options import json_option, level_option, tell, unit_test
from swabwright.cli.sample_size_words import VALIDATION, in_words_of_options
from swabwright.detection.statistics.detection_level import detection_level as fit_detection_level
from swabwright.detection.statistics.intervals import METHODS, share
from swabwright.detection.statistics.most_probable_number import most_probable_number as fit_number
from swabwright.detection.statistics.performance import Performance, Validation
from swabwright.detection.statistics.poisson_fit import Level
from swabwright.detection.statistics.pooled_prevalence import mixed_pools_prevalence as of_mixed_pools
from swabwright.detection.statistics.pooled_prevalence import pooled_prevalence as of_pools
from swabwright.detection.statistics.pools import Pool
from swabwright.detection.statistics.posterior import BetaPrior, posterior_known_test, posterior_uncertain_test
from swabwright.detection.statistics.prevalence import rogan_gladen, rogan_gladen_uncertain

detected_option = click.option("--detected", type=int, required=True, help="How many were reported as detected.")
samples_option = click.option("--samples", type=int, required=True, help="How many were tested.")
method_option = click.option(
    "--method", type=click.Choice(list(METHODS)), default="wilson", show_default=True, help="Kind of interval."
)


@click.command()
@detected_option
@samples_option
@method_option
@level_option
@json_option
def interval(*, detected: int, samples: int, method: str, level: float, as_json: bool) -> None:
    """The share of samples detected, with one of four intervals.

    \b
    Example: swabwright sample-size interval --detected 3 --samples 60 \\
      --method clopper-pearson
    """
    tell(as_json=as_json, answer=share(detected, samples, level, method))


@click.command()
@detected_option
@samples_option
@unit_test
@click.option(
    "--validation",
    type=(int, int, int, int),
    metavar="C D U N",
    help="Instead of a known test: contaminated units tried, detected of them, uncontaminated ones, not detected.",
)
@click.option("--prior", type=(float, float), default=(1.0, 1.0), show_default=True, help="Beta prior of the share.")
@method_option
@level_option
@json_option
def prevalence(
    *,
    detected: int,
    samples: int,
    unit_sensitivity: float,
    unit_specificity: float,
    validation: tuple[int, int, int, int] | None,
    prior: tuple[float, float],
    method: str,
    level: float,
    as_json: bool,
) -> None:
    """True prevalence from an imperfect test: the Rogan-Gladen estimate, and the posterior.

    \b
    Example: swabwright sample-size prevalence --detected 3 --samples 60 \\
      --unit-sensitivity 0.8 --unit-specificity 0.99
    """
    if validation is None:
        test = Performance(unit_sensitivity, unit_specificity)
        estimate = rogan_gladen(detected, samples, test, level, method)
        posterior = posterior_known_test(detected, samples, test, BetaPrior(*prior), level)
    else:
        if (unit_sensitivity, unit_specificity) != (1.0, 1.0):
            raise click.UsageError("--validation stands in for --unit-sensitivity and --unit-specificity; give one")
        with in_words_of_options(VALIDATION):
            study = Validation(*validation)
        estimate = rogan_gladen_uncertain(detected, samples, study, level)
        posterior = posterior_uncertain_test(detected, samples, study, BetaPrior(*prior), level)
    tell(as_json=as_json, rogan_gladen=estimate, posterior=posterior)


@click.command("pooled-prevalence")
@click.option(
    "--pools",
    type=(int, int, int),
    multiple=True,
    required=True,
    metavar="SIZE POOLS DETECTED",
    help="Units in a pool, pools tested, pools detected. Repeat for each size.",
)
@unit_test
@method_option
@level_option
@json_option
def pooled_prevalence(
    *,
    pools: tuple[tuple[int, int, int], ...],
    unit_sensitivity: float,
    unit_specificity: float,
    method: str,
    level: float,
    as_json: bool,
) -> None:
    """Prevalence of units from pools; the unit of sensitivity and specificity is the pool.

    Pools of several sizes take a test without false results, and have their own interval.

    \b
    Example: swabwright sample-size pooled-prevalence --pools 5 20 2
    """
    test = Performance(unit_sensitivity, unit_specificity)
    if len(pools) == 1:
        size, tested, detected = pools[0]
        found = of_pools(detected, tested, Pool(size, test), level, method)
    elif test == Performance():
        found = of_mixed_pools([Level(*one) for one in pools], level)
    else:
        raise click.UsageError("--unit-sensitivity and --unit-specificity go with pools of one size only")
    tell(as_json=as_json, answer=found)


@click.command("most-probable-number")
@click.option(
    "--tubes",
    type=(float, int, int),
    multiple=True,
    required=True,
    metavar="AMOUNT TUBES GREW",
    help="For a dilution: amount of the sample in a tube, tubes, tubes with growth. Repeat for each.",
)
@click.option("--unit", default="g", show_default=True, help="Unit of the amounts.")
@level_option
@json_option
def most_probable_number(*, tubes: tuple[tuple[float, int, int], ...], unit: str, level: float, as_json: bool) -> None:
    """Most probable number of organisms per gram or millilitre, from tubes with and without growth.

    \b
    Example: swabwright sample-size most-probable-number \\
      --tubes 0.1 3 3 --tubes 0.01 3 1 --tubes 0.001 3 0
    """
    tell(as_json=as_json, answer=fit_number([Level(*one) for one in tubes], level, unit))


@click.command("detection-level")
@click.option(
    "--portions",
    type=(float, int, int),
    multiple=True,
    required=True,
    metavar="LEVEL PORTIONS DETECTED",
    help="For a level: organisms put on one portion, portions, portions detected. Repeat for each.",
)
@click.option("--detection", type=float, help="Also the level detected with this chance: 0.95 gives LOD95.")
@level_option
@json_option
def detection_level(
    *, portions: tuple[tuple[float, int, int], ...], detection: float | None, level: float, as_json: bool
) -> None:
    """Level detected half of the time (LOD50), by the complementary log-log curve.

    \b
    Example: swabwright sample-size detection-level \\
      --portions 0.3 20 5 --portions 1 20 12 --portions 5 20 19
    """
    half = fit_detection_level([Level(*one) for one in portions], level)
    further = {} if detection is None else {"further": half.level_at(detection)}
    tell(as_json=as_json, answer=half, **further)
