"""`swabwright growth`: how far an organism could have grown at given temperatures."""

import click

from swabwright.cli.options import json_option
from swabwright.detection.predictive.organisms import MODELS
from swabwright.plant.registry import load_figures
from swabwright.work.answers import answers_as_json, answers_as_text
from swabwright.work.grow import grow


@click.command()
@click.option(
    "--reading",
    type=(float, float),
    multiple=True,
    required=True,
    metavar="HOURS C",
    help="A reading of the logger: hours from any zero, and temperature. Repeat, in order.",
)
@click.option("--organism", default="listeria_monocytogenes", show_default=True, help="Whose growth.")
@click.option("--model", type=click.Choice(list(MODELS)), default="square-root", show_default=True, help="Which model.")
@click.option("--lag-work", type=float, default=0.0, show_default=True, help="Rate times lag, ln units; 0: no lag.")
@json_option
def growth(
    *, reading: tuple[tuple[float, float], ...], organism: str, model: str, lag_work: float, as_json: bool
) -> None:
    """How far an organism could have grown in rich food over a series of temperatures.

    Temperatures run in straight lines between readings. Without a lag this is the upper end.

    Example: swabwright growth --reading 0 4 --reading 6 12 --reading 24 4
    """
    found = grow(reading, organism, load_figures(), model=model, lag_work=lag_work)
    click.echo(answers_as_json(growth=found) if as_json else answers_as_text(found))
