"""`sample-size large | finite | pooled`: how many samples of one population."""

import click

from swabwright.cli.sample_size_options import (
    aim_options,
    design_prevalence,
    json_option,
    samples_option,
    tell,
    unit_test,
)
from swabwright.detection.statistics.aim import Aim
from swabwright.detection.statistics.finite import FinitePopulation
from swabwright.detection.statistics.performance import Performance
from swabwright.detection.statistics.pools import Pool
from swabwright.work.sample_size import in_finite_population, in_large_population, in_pools


@click.command()
@design_prevalence()
@unit_test
@aim_options
@samples_option("samples taken")
@json_option
def large(
    *,
    design_prevalence: float,
    unit_sensitivity: float,
    unit_specificity: float,
    samples: int | None,
    as_json: bool,
    **aim: float,
) -> None:
    """Samples of a large population, such as packs of a day's production (binomial).

    \b
    Example: swabwright sample-size large --design-prevalence 0.05 \\
      --unit-sensitivity 0.8
    """
    test = Performance(unit_sensitivity, unit_specificity)
    tell(as_json=as_json, answer=in_large_population(samples, _aim(aim), design_prevalence, test))


@click.command()
@click.option("--population", type=int, required=True, help="Number of all units, such as the sites of a line.")
@design_prevalence()
@unit_test
@aim_options
@samples_option("different units sampled")
@click.option(
    "--calculation",
    type=click.Choice(["exact", "approximate"]),
    required=True,
    help="Exact (hypergeometric), or the approximation by the share sampled, which never promises more.",
)
@json_option
def finite(
    *,
    population: int,
    design_prevalence: float,
    unit_sensitivity: float,
    unit_specificity: float,
    samples: int | None,
    calculation: str,
    as_json: bool,
    **aim: float,
) -> None:
    """Different units of a small population, such as the 120 sites of a line, with false positives and a cut-point.

    The number of contaminated units is the design prevalence times the population, rounded up.

    \b
    Example: swabwright sample-size finite --population 120 \\
      --design-prevalence 0.05 --calculation exact
    """
    test = Performance(unit_sensitivity, unit_specificity)
    units = FinitePopulation.at(population, design_prevalence)
    tell(as_json=as_json, answer=in_finite_population(samples, _aim(aim), units, test, calculation=calculation))


@click.command()
@click.option("--pool-size", type=int, required=True, help="Units whose samples are put together into one pool.")
@design_prevalence()
@unit_test
@aim_options
@samples_option("pools tested")
@json_option
def pooled(
    *,
    pool_size: int,
    design_prevalence: float,
    unit_sensitivity: float,
    unit_specificity: float,
    samples: int | None,
    as_json: bool,
    **aim: float,
) -> None:
    """Pools of several units' samples, of a large population; the unit of sensitivity and specificity is the pool.

    \b
    Example: swabwright sample-size pooled --pool-size 5 \\
      --design-prevalence 0.02 --unit-sensitivity 0.9
    """
    pool = Pool(pool_size, Performance(unit_sensitivity, unit_specificity))
    tell(as_json=as_json, answer=in_pools(samples, _aim(aim), design_prevalence, pool))


def _aim(options: dict[str, float]) -> Aim:
    cut_point = options["cut_point"]
    return Aim(
        system_sensitivity=options["system_sensitivity"],
        system_specificity=options["system_specificity"],
        cut_point=None if cut_point is None else int(cut_point),
        largest_sample=int(options["largest_sample"]),
    )
