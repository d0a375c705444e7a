"""Options that the subcommands of `sample-size` share, in epidemiology's terms with our nouns beside them."""

from collections.abc import Callable
from typing import Any

import click

from swabwright.cli.options import json_option
from swabwright.plant.registry import load_figures
from swabwright.work.answers import Told, answers_as_json, answers_as_text

Decorator = Callable[[Callable[..., Any]], Callable[..., Any]]


def figure_default(name: str) -> dict[str, Any]:
    """A default that is read from the catalogue's figures when the command runs."""
    return {"default": lambda: load_figures().number(name), "show_default": f"figure {name}"}


def design_prevalence() -> Decorator:
    """--design-prevalence."""
    words = "Share of units (sites, packs, lots) contaminated that must not be missed."
    return click.option("--design-prevalence", type=float, required=True, help=words)


def unit_test(function: Callable[..., Any]) -> Callable[..., Any]:
    """--unit-sensitivity and --unit-specificity."""
    sensitivity = "Chance that the sample of a contaminated unit is reported as detected, from device to laboratory."
    specificity = "Chance that the sample of an uncontaminated unit is reported as not detected."
    function = click.option("--unit-specificity", type=float, default=1.0, show_default=True, help=specificity)(
        function
    )
    return click.option("--unit-sensitivity", type=float, default=1.0, show_default=True, help=sensitivity)(function)


def system_sensitivity(function: Callable[..., Any]) -> Callable[..., Any]:
    """--system-sensitivity."""
    words = "Surveillance system sensitivity: chance wanted that all samples together show it."
    return click.option(
        "--system-sensitivity", type=float, help=words, **figure_default("statistics.system_sensitivity")
    )(function)


def aim_options(function: Callable[..., Any]) -> Callable[..., Any]:
    """--system-sensitivity, --system-specificity, --cut-point and --largest-sample."""
    specificity = "Chance wanted of no more positives than the cut-point when nothing is contaminated."
    cut_point = "Largest number of positives that still counts as not detected. [default: the search chooses it]"
    for option in (
        click.option("--largest-sample", type=int, default=5000, show_default=True, help="Where the search ends."),
        click.option("--cut-point", type=int, help=cut_point),
        click.option(
            "--system-specificity", type=float, help=specificity, **figure_default("statistics.system_specificity")
        ),
    ):
        function = option(function)
    return system_sensitivity(function)


def samples_option(what: str) -> Decorator:
    """--samples: what is at hand; without it the smallest number is looked for."""
    words = (
        f"Number of {what}: says what it reaches. Without it the smallest number that reaches the aim is looked for."
    )
    return click.option("--samples", type=int, help=words)


def level_option(function: Callable[..., Any]) -> Callable[..., Any]:
    """--level of an interval."""
    return click.option("--level", type=float, help="Level of the interval.", **figure_default("statistics.level"))(
        function
    )


def tell(*, as_json: bool, **answers: Told) -> None:
    """Print answers as sentences or as JSON."""
    click.echo(answers_as_json(**answers) if as_json else answers_as_text(*answers.values()))


__all__ = [
    "aim_options",
    "design_prevalence",
    "json_option",
    "level_option",
    "samples_option",
    "system_sensitivity",
    "tell",
    "unit_test",
]
