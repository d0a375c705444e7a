"""`swabwright strains`: which isolates are alike, by a laboratory's distances."""

from pathlib import Path

import click

from swabwright.cli.options import json_option
from swabwright.work.answers import answers_as_json, answers_as_text
from swabwright.work.compare_strains import compare_strains


@click.command()
@click.argument("distances", type=click.Path(path_type=Path, dir_okay=False, exists=True))
@click.option("--threshold", type=float, multiple=True, help="Group isolates joined by steps up to this. Repeat.")
@click.option("--long", is_flag=True, help="One pair a line below a heading: isolate, isolate, distance.")
@json_option
def strains(*, distances: Path, threshold: tuple[float, ...], long: bool, as_json: bool) -> None:
    """The shortest tree of isolates, and their groups at thresholds; a distance alone decides nothing.

    DISTANCES is a CSV file: a square table with names above and at the left, or pairs with --long.

    Example: swabwright strains distances.csv --threshold 7
    """
    found = compare_strains(distances.read_bytes(), distances.name, threshold, long=long)
    click.echo(answers_as_json(strains=found) if as_json else answers_as_text(found))
