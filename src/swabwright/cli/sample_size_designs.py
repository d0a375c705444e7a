"""`sample-size risk-based | two-stage | freedom`: strata, groups and rounds."""

import click

from swabwright.cli.sample_size_options import design_prevalence, json_option, system_sensitivity, tell
from swabwright.cli.sample_size_words import GROUPS, UNITS, in_words_of_options
from swabwright.detection.statistics.finite import FinitePopulation
from swabwright.detection.statistics.freedom import MOMENTS, equilibrium, freedom_over_rounds, rounds_needed
from swabwright.detection.statistics.risk import Stratum
from swabwright.detection.statistics.two_stage import TwoStage, cheapest_two_stage, two_stage_sample_size
from swabwright.work.sample_size import by_risk

UNIT_SENSITIVITY = "Chance that the sample of a contaminated unit is reported as detected."


@click.command("risk-based")
@click.option(
    "--stratum",
    type=(str, float, float),
    multiple=True,
    required=True,
    metavar="NAME RISK SHARE",
    help="A kind of unit: its name, relative risk, and population proportion. Repeat for each.",
)
@design_prevalence()
@click.option("--unit-sensitivity", type=float, default=1.0, show_default=True, help=UNIT_SENSITIVITY)
@click.option("--samples", type=int, multiple=True, help="Samples of each stratum, in order: says what they reach.")
@click.option("--population", type=int, multiple=True, help="Units of each stratum, in order, when it is small.")
@click.option("--surveillance-proportion", type=float, multiple=True, help="Share of all samples for each, in order.")
@system_sensitivity
@json_option
def risk_based(
    *,
    stratum: tuple[tuple[str, float, float], ...],
    design_prevalence: float,
    unit_sensitivity: float,
    samples: tuple[int, ...],
    population: tuple[int, ...],
    surveillance_proportion: tuple[float, ...],
    system_sensitivity: float,
    as_json: bool,
) -> None:
    """Samples of strata of unlike risk: drains five times as likely as handles.

    Give --samples for each stratum, or --surveillance-proportion for each to have the smallest number looked for.

    \b
    Example: swabwright sample-size risk-based --design-prevalence 0.02 \\
      --stratum drains 5 0.1 --surveillance-proportion 0.8 \\
      --stratum others 1 0.9 --surveillance-proportion 0.2
    """
    strata = _strata(stratum, population, unit_sensitivity)
    found = by_risk(
        system_sensitivity,
        strata,
        design_prevalence,
        samples=samples,
        surveillance_proportions=surveillance_proportion,
    )
    tell(as_json=as_json, answer=found)


def _strata(
    typed: tuple[tuple[str, float, float], ...], population: tuple[int, ...], unit_sensitivity: float
) -> tuple[Stratum, ...]:
    if population and len(population) != len(typed):
        raise click.UsageError(f"--population: {len(population)} numbers for {len(typed)} strata; give one for each")
    sizes = population or (None,) * len(typed)
    return tuple(Stratum(*one, unit_sensitivity, size) for one, size in zip(typed, sizes, strict=True))


@click.command("two-stage")
@click.option("--groups", type=int, required=True, help="Number of all groups: rooms, lines, lots.")
@click.option("--group-design-prevalence", type=float, required=True, help="Share of groups contaminated.")
@click.option("--units", type=int, required=True, help="Number of units in one group: its sites or packs.")
@design_prevalence()
@click.option("--unit-sensitivity", type=float, default=1.0, show_default=True, help=UNIT_SENSITIVITY)
@click.option("--group-sensitivity", type=float, help="Chance wanted that a contaminated group shows it.")
@click.option("--minutes", type=(float, float), metavar="GROUP UNIT", help="Minutes for a group and for one sample.")
@click.option("--calculation", type=click.Choice(["exact", "approximate"]), required=True, help="For both stages.")
@system_sensitivity
@json_option
def two_stage(
    *,
    groups: int,
    group_design_prevalence: float,
    units: int,
    design_prevalence: float,
    unit_sensitivity: float,
    group_sensitivity: float | None,
    minutes: tuple[float, float] | None,
    calculation: str,
    system_sensitivity: float,
    as_json: bool,
) -> None:
    """Groups, then units in each: by a wanted group sensitivity, or by the least working time with --minutes.

    \b
    Example: swabwright sample-size two-stage --calculation exact \\
      --groups 20 --group-design-prevalence 0.1 --system-sensitivity 0.9 \\
      --units 40 --design-prevalence 0.1 --group-sensitivity 0.9
    """
    with in_words_of_options(GROUPS):
        every_group = FinitePopulation.at(groups, group_design_prevalence)
    with in_words_of_options(UNITS):
        in_a_group = FinitePopulation.at(units, design_prevalence)
    survey = TwoStage(every_group, in_a_group, unit_sensitivity, calculation)
    if (group_sensitivity is None) == (minutes is None):
        raise click.UsageError("give --group-sensitivity or --minutes, one of them")
    if group_sensitivity is not None:
        found = two_stage_sample_size(system_sensitivity, group_sensitivity, survey)
    else:
        of_group, of_unit = minutes or (0.0, 0.0)
        found = cheapest_two_stage(system_sensitivity, survey, minutes_per_group=of_group, minutes_per_unit=of_unit)
    tell(as_json=as_json, answer=found)


@click.command()
@click.option("--prior-freedom", type=float, required=True, help="Probability of freedom before the first round.")
@click.option(
    "--round-sensitivity", type=float, multiple=True, required=True, help="System sensitivity of each round, in order."
)
@click.option(
    "--introduction",
    type=float,
    multiple=True,
    default=(0.0,),
    show_default=True,
    help="Chance that it comes in: once for all rounds, or for each round in order.",
)
@click.option(
    "--moment", type=click.Choice(MOMENTS), required=True, help="Whether that acts before or after each round."
)
@click.option("--wanted", type=float, help="Probability of freedom wanted: says how many like rounds lead to it.")
@json_option
def freedom(
    *,
    prior_freedom: float,
    round_sensitivity: tuple[float, ...],
    introduction: tuple[float, ...],
    moment: str,
    wanted: float | None,
    as_json: bool,
) -> None:
    """Probability of freedom after rounds in which nothing was detected, and the equilibrium of the last one repeated.

    \b
    Example: swabwright sample-size freedom --prior-freedom 0.5 \\
      --round-sensitivity 0.7 --introduction 0.01 --moment before --wanted 0.95
    """
    if wanted is None:
        after = freedom_over_rounds(prior_freedom, round_sensitivity, introduction, moment)
    elif len(round_sensitivity) > 1 or len(introduction) > 1:
        raise click.UsageError("--wanted counts like rounds: give one --round-sensitivity and one --introduction")
    else:
        after = rounds_needed(prior_freedom, round_sensitivity[0], introduction[0], moment, wanted=wanted)
    lasting = equilibrium(round_sensitivity[-1], introduction[-1], moment)
    tell(as_json=as_json, freedom=after, equilibrium=lasting)
