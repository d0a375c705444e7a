"""`swabwright next`: what to sample next, after the results so far."""

from pathlib import Path
from typing import Literal

import click

from swabwright.case.folder import read_case
from swabwright.cli.options import case_argument, json_option, paper_option
from swabwright.cli.steps import Steps
from swabwright.work.next_files import NEXT_FILE, next_files
from swabwright.work.next_visit import next_visit
from swabwright.work.storage import cache_folder, write_draft


@click.command()
@case_argument
@click.argument("visit_id", metavar="VISIT")
@click.option("--samples", type=click.IntRange(min=1), help="Surface samples to choose; by default what limits allow.")
@click.option("--strain", help="Which strain to go by, where the laboratory told several apart.")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), help="Folder for the proposal and its draft.")
@paper_option
@json_option
def next_command(
    case: Path,
    visit_id: str,
    samples: int | None,
    strain: str | None,
    out: Path | None,
    paper: Literal["a4", "letter"],
    *,
    as_json: bool,
) -> None:
    """Say what to sample on VISIT of CASE after the results so far, and what other choices would give.

    Writes the proposal (next-visit.json, .pdf and .svg) and a draft plan with its papers into --out; `swabwright
    accept` takes the draft into the case. VISIT stands in investigation.json with its own limits.

    Example: swabwright next CASE visit-2 --samples 12 --out out/visit-2
    """
    with Steps(quiet=as_json) as steps:
        steps("Reading the case")
        opened = read_case(case)
        proposed = next_visit(
            opened, opened.visit(visit_id), samples=samples, strain=strain, cache_folder=cache_folder(), say=steps
        )
        if out is not None:
            steps("Setting the papers")
            write_draft(out, next_files(proposed, opened, paper))
    document = proposed.document
    click.echo(document.model_dump_json(indent=2) if as_json else "\n".join(document.sentences))
    if out is not None and not as_json:
        click.echo(f"\nThe proposal is {out / NEXT_FILE}, the draft plan with its papers beside it: plan.json.")
