"""`swabwright plan`: a draft plan with its papers."""

from pathlib import Path
from typing import Literal

import click

from swabwright.case.folder import read_case
from swabwright.cli.options import case_argument, json_option, paper_option, visit_option
from swabwright.cli.steps import Steps
from swabwright.work.drafts import draft_files
from swabwright.work.plan_case import plan_case
from swabwright.work.storage import cache_folder, write_draft


@click.command()
@case_argument
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), help="Folder for the draft and its papers.")
@visit_option
@paper_option
@json_option
def plan(case: Path, out: Path | None, visit_id: str | None, paper: Literal["a4", "letter"], *, as_json: bool) -> None:
    """Plan the next visit of CASE: samples, order, clock, kit, and what the visit can and cannot show.

    Writes a draft (plan.json, plan.pdf, labels.pdf, walk.csv, pocket.bin) into --out; `swabwright accept` takes it
    into the case.

    Example: swabwright plan examples/juniper-lane --out out/juniper-lane
    """
    with Steps(quiet=as_json) as steps:
        steps("Reading the case")
        opened = read_case(case)
        visit = opened.visit(visit_id) if visit_id else opened.next_visit()
        planned = plan_case(opened, visit, cache_folder=cache_folder(), say=steps)
        if out is not None:
            steps("Setting the papers")
            write_draft(out, draft_files(planned, opened, paper=paper))
    _report(planned.plan.model_dump_json(indent=2) if as_json else "\n".join(planned.plan.sentences), out, as_json)


def _report(text: str, out: Path | None, as_json: bool) -> None:
    click.echo(text)
    if out is not None and not as_json:
        click.echo(f"\nThe papers are in {out}: plan.pdf, labels.pdf and walk.csv. The draft is plan.json.")
