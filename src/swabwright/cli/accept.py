"""`swabwright accept`: a draft becomes the plan of its visit."""

from pathlib import Path
from typing import Literal

import click

from swabwright.case.folder import read_case
from swabwright.cli.options import case_argument, paper_option
from swabwright.cli.steps import Steps
from swabwright.work.accept_plan import accept_plan
from swabwright.work.storage import cache_folder


@click.command()
@case_argument
@click.argument("draft", type=click.Path(path_type=Path))
@paper_option
def accept(case: Path, draft: Path, paper: Literal["a4", "letter"]) -> None:
    """Take DRAFT (a plan.json, or the folder that holds it) into the plans of CASE.

    Refused when the case has changed since the draft was made, or the visit has a plan already. The chance of finding
    is computed once more on histories that nobody has seen yet, and the papers are printed without DRAFT into plans/.

    Example: swabwright accept examples/juniper-lane out/juniper-lane
    """
    with Steps() as steps:
        steps("Reading the case")
        accepted = accept_plan(read_case(case), draft, cache_folder=cache_folder(), say=steps, paper=paper)
    click.echo("\n".join(accepted.sentences))
