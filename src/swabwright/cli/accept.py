"""`swabwright accept`: a draft becomes the plan of its visit."""

from pathlib import Path
from typing import Literal

import click

from swabwright.case.folder import read_case
from swabwright.cli.options import case_argument, paper_option
from swabwright.cli.steps import Steps
from swabwright.work.accept_plan import accept_plan
from swabwright.work.record_accept import this_computer
from swabwright.work.storage import cache_folder


@click.command()
@case_argument
@click.argument("draft", type=click.Path(path_type=Path))
@paper_option
@click.option("--by", help="Who accepts; this computer's user when left out.")
@click.option("--on", "device", help="On which computer, a short lower-case name; its own when left out.")
def accept(case: Path, draft: Path, paper: Literal["a4", "letter"], by: str | None, device: str | None) -> None:
    """Take DRAFT (a plan.json, or the folder that holds it) into the plans of CASE.

    Refused when the case has changed since the draft was made, or the visit has a plan already. The chance of finding
    is computed once more on histories that nobody has seen yet, and the papers are printed without DRAFT into plans/;
    the record gets an entry with the hash of the plan.

    Example: swabwright accept examples/juniper-lane out/juniper-lane
    """
    signer = this_computer(by, device)
    with Steps() as steps:
        steps("Reading the case")
        opened, cache = read_case(case), cache_folder()
        accepted = accept_plan(opened, draft, cache_folder=cache, say=steps, paper=paper, signer=signer)
    click.echo("\n".join(accepted.sentences))
