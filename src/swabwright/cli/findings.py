"""`swabwright findings`: what the results mean."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Literal

import click

from swabwright.case.findings import Findings
from swabwright.case.folder import read_case
from swabwright.cli.options import case_argument, json_option, paper_option
from swabwright.cli.steps import Steps
from swabwright.work.findings import FindingsAsked, findings_of
from swabwright.work.findings_files import findings_draft, findings_files, findings_json
from swabwright.work.storage import cache_folder, write_draft

NAMED = 3
"""Samples named in one line of what was not read."""


@click.command()
@case_argument
@click.option("--strain", help="Only this strain; by default every strain that the laboratory told apart.")
@click.option(
    "--matches",
    type=click.Path(path_type=Path, dir_okay=False, exists=True),
    help="The laboratory's matches with isolates of patients, a CSV file.",
)
@click.option("--out", type=click.Path(path_type=Path, file_okay=False), help="Folder for the findings and papers.")
@paper_option
@json_option
def findings(
    *,
    case: Path,
    strain: str | None,
    matches: Path | None,
    out: Path | None,
    paper: Literal["a4", "letter"],
    as_json: bool,
) -> None:
    """Say where it most likely lives in CASE by all results so far, how sure, and what that rests on.

    Results of samples taken after the first action was seen or said done belong to clearance and are left out.

    Example: swabwright findings examples/juniper-lane-to-the-end --out out/findings
    """
    with Steps(quiet=as_json) as steps:
        steps("Reading the case")
        opened = read_case(case)
        found = findings_of(opened, FindingsAsked(strain, matches), cache_folder(), steps)
        if out is not None:
            steps("Setting the papers")
            write_draft(out, findings_draft(found, opened, paper))
    click.echo(findings_json(found) if as_json else "\n\n".join(_text(found)))
    if out is not None and not as_json:
        click.echo(f"\nThe findings are in {out}: {', '.join(findings_files(found))}, papers beside.")


def _text(found: Sequence[Findings]) -> Iterator[str]:
    for one in found:
        yield "\n".join((*one.sentences, *_not_read(one.left_out)))


def _not_read(left_out: Sequence[str]) -> Iterator[str]:
    """What was not read, samples with the same reason in one line; the document names each."""
    alike: dict[str, list[str]] = {}
    for told in left_out:
        what, _, why = told.partition(": ")
        alike.setdefault(why, []).append(what)
    for why, named in alike.items():
        more = f" and {len(named) - NAMED} more" if len(named) > NAMED else ""
        yield f"  not read: {', '.join(named[:NAMED])}{more}: {why}"
