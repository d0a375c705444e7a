"""`swabwright clearance`: how likely it is gone, and what one more round would make it."""

from pathlib import Path
from typing import Literal

import click

from swabwright.case.folder import read_case
from swabwright.cli.options import case_argument, json_option, paper_option
from swabwright.cli.steps import Steps
from swabwright.work.clearance_case import clearance_of
from swabwright.work.clearance_files import clearance_files, clearance_json
from swabwright.work.clearance_read import Workplace
from swabwright.work.storage import cache_folder, write_draft


@click.command()
@case_argument
@click.option("--strain", help="Only this strain; by default every strain that the laboratory told apart.")
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), help="Folder for document and papers.")
@paper_option
@json_option
def clearance(
    case: Path, strain: str | None, out: Path | None, paper: Literal["a4", "letter"], *, as_json: bool
) -> None:
    """Say how likely it is gone from the plant of CASE, after the actions and rounds of its record.

    Prints the chance after every round, with all actions and with those seen done only, what one more round with
    nothing detected would make it, and which samples that round should take: for each strain by itself. It releases
    no product.

    Example: swabwright clearance CASE --out out/clearance
    """
    with Steps(quiet=as_json) as steps:
        steps("Reading the case")
        opened = read_case(case)
        found = clearance_of(opened, strain, Workplace(cache_folder(), steps))
        if out is not None:
            steps("Setting the papers")
            files = clearance_files(found, opened, paper)
            write_draft(out, files)
    click.echo(clearance_json(found) if as_json else "\n\n".join("\n".join(one.sentences) for one in found))
    if out is not None and not as_json:
        click.echo(f"\nWritten to {out}: {', '.join(sorted(files))}.")
