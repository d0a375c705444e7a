"""`swabwright strains`: which isolates are alike, by a laboratory's distances and in its own words."""

from pathlib import Path
from typing import Any

import click

from swabwright.cli.options import json_option, paper_option
from swabwright.inference.persistence import Repeats
from swabwright.work.answers import answers_as_json, answers_as_text
from swabwright.work.compare_strains import StrainsAsked, compare_strains
from swabwright.work.storage import write_draft
from swabwright.work.strain_files import strain_files

FILE = click.Path(path_type=Path, dir_okay=False, exists=True)
FOLDER = click.Path(path_type=Path, file_okay=False, exists=True)


@click.command()
@click.argument("distances", type=FILE, required=False)
@click.option(
    "--threshold",
    "thresholds",
    type=float,
    multiple=True,
    help="Group isolates joined by steps up to this. Repeat for several.",
)
@click.option("--long", is_flag=True, help="One pair a line below a heading: isolate, isolate, distance.")
@click.option(
    "--repeats",
    type=(str, int, int, float, str),
    multiple=True,
    metavar="STRAIN REPEATS ISOLATES FREQUENCY SOURCE",
    help="A strain's isolates, of how many, and how frequent it is in a reference, with where that comes from.",
)
@click.option("--matches", type=FILE, help="The laboratory's matches with isolates of patients, a CSV file.")
@click.option("--patient", "patients", multiple=True, help="An isolate of DISTANCES that is a patient's, by code.")
@click.option("--case", type=FOLDER, help="Hold apart what the record of this case does not name as an isolate.")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), help="Folder for the drawing; needs --case.")
@paper_option
@json_option
def strains(*, distances: Path | None, repeats: tuple[tuple[str, int, int, float, str], ...], **given: Any) -> None:
    """The shortest tree of isolates, and their groups at thresholds; a distance alone decides nothing.

    DISTANCES is a CSV file: a square table with names above and at the left, or pairs with --long. Isolates of
    patients enter no tree and no group; what is said of them are the laboratory's words. With --repeats alone
    no DISTANCES are needed.

    \b
    Example: swabwright strains distances.csv --threshold 7 \\
      --repeats A 4 5 0.02 "state collection, 12 of 600"
    """
    as_json, out, paper = (given.pop(name) for name in ("as_json", "out", "paper"))
    tested = tuple(Repeats(*one) for one in repeats)
    found = compare_strains(distances, StrainsAsked(repeats=tested, **given))
    if out is not None:
        write_draft(out, strain_files(found, given["case"], paper))
    click.echo(answers_as_json(strains=found) if as_json else answers_as_text(found))
