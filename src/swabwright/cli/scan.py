"""`swabwright scan`: where detections stand closer together than chance."""

from pathlib import Path
from typing import Literal

import click

from swabwright.cli.options import json_option, paper_option
from swabwright.inference.scan import Search
from swabwright.work.answers import answers_as_json, answers_as_text
from swabwright.work.scan_files import scan_files
from swabwright.work.scan_floor import Floor
from swabwright.work.scan_sites import plant_of, scan_file
from swabwright.work.storage import write_draft

FILE = click.Path(path_type=Path, dir_okay=False, exists=True)


@click.command()
@click.argument("results", type=FILE)
@click.option(
    "--model",
    type=click.Choice(["bernoulli", "poisson"]),
    default="bernoulli",
    show_default=True,
    help="Trials or exposure.",
)
@click.option(
    "--largest-share", type=float, default=0.5, show_default=True, help="Most of what was tested in a window."
)
@click.option("--radius", type=float, help="Widest window, m; any by default.")
@click.option("--rearrangements", type=int, default=999, show_default=True, help="How often chance is played.")
@click.option("--seed", type=int, default=1, show_default=True, help="Of the rearrangements.")
@click.option("--plant", type=FILE, help="The plant document, for sites named by code and for walking.")
@click.option("--walking", is_flag=True, help="Measure on foot through the plant's doors, not straight.")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), help="Folder for the drawing; needs --plant.")
@paper_option
@json_option
def scan(
    *,
    results: Path,
    model: str,
    largest_share: float,
    radius: float | None,
    rearrangements: int,
    seed: int,
    plant: Path | None,
    walking: bool,
    out: Path | None,
    paper: Literal["a4", "letter"],
    as_json: bool,
) -> None:
    """Where detections stand closer together than chance, among the sites that were tested.

    RESULTS is a CSV file with the heading site,x_m,y_m,period,detected,tested; with --plant x_m and y_m may be left
    out, and sites are named by their codes. A cluster says where, never why.

    Example: swabwright scan results.csv --rearrangements 9999
    """
    search = Search(largest_share, radius, rearrangements, seed)
    floor = Floor(plant_of(plant) if plant else None, walking)
    found = scan_file(results.read_bytes(), results.name, model, search, floor)
    if out is not None:
        write_draft(out, scan_files(found, (results.read_bytes(), results.name, model), floor, paper))
    click.echo(answers_as_json(scan=found) if as_json else answers_as_text(found))
