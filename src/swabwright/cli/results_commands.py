"""`swabwright results`: what the laboratory found, taken in from its signed report and its table."""

import json
from dataclasses import asdict
from pathlib import Path
from typing import Any

import click

from swabwright.case.folder import read_case
from swabwright.cli.options import case_argument, json_option
from swabwright.work.call_sheet import write_call_sheet
from swabwright.work.import_results import ResultsRequest, import_results, outcome_lines
from swabwright.work.record_accept import this_computer
from swabwright.work.results_report import GivenFacts
from swabwright.work.show_results import shown_lines, shown_results

FILE = click.Path(path_type=Path, dir_okay=False)


@click.group()
def results() -> None:
    """Take in what the laboratory found, and show what stands of every sample."""


@results.command("import")
@case_argument
@click.argument("table", type=FILE)
@click.option("--report", type=FILE, required=True, help="The laboratory's signed report; its bytes are kept.")
@click.option("--laboratory", help="Its name; by default the one that the record says received the samples.")
@click.option("--mapping", type=FILE, help="TOML file that names columns and words; kept for its next report.")
@click.option("--accession", help="The laboratory's number of the report, where the table does not say it.")
@click.option("--status", help="preliminary, final or amended, where the table does not say it.")
@click.option("--signed-by", "authorised_by", help="Who authorised the report, where the table does not say it.")
@click.option("--reported-at", help="When it was reported, where the table does not say it.")
@click.option("--time-zone", help="Of the table's times; the plant's by default.")
@click.option("--organism", help="What rows without an organism are about; that of the case by default.")
@click.option("--by", help="Who enters it; this computer's user when left out.")
@click.option("--on", "device", help="On which computer, a short lower-case name; its own when left out.")
@json_option
def import_command(case: Path, table: Path, report: Path, *, as_json: bool, **said: Any) -> None:
    """Take the results in TABLE (XLSX, ODS or CSV) into the record of CASE, beside the signed report.

    Rows that do not fit the record are held apart with the reason. A screening result on a surface that touches food,
    or beside one, writes a call sheet at once.

    Example: swabwright results import CASE results.xlsx --report signed.pdf --laboratory "Fjord Laboratory (invented)"
    """
    opened = read_case(case)
    signer = this_computer(said.pop("by"), said.pop("device"))
    laboratory, mapping = said.pop("laboratory"), said.pop("mapping")
    request = ResultsRequest(table, report, signer, laboratory, mapping, GivenFacts(**said))
    outcome = import_results(opened, request)
    sheet = write_call_sheet(opened, outcome.report)
    if as_json:
        document = asdict(outcome) | {"facts": {**vars(outcome.facts), "zone": str(outcome.facts.zone)}}
        document["call_sheet"] = None if sheet is None else str(sheet.pdf or sheet.json)
        click.echo(json.dumps(document, indent=2, ensure_ascii=False))
        return
    for line in (*(sheet.sentences if sheet else ()), *outcome_lines(outcome)):
        click.echo(line)


@results.command("show")
@case_argument
@json_option
def show_command(case: Path, *, as_json: bool) -> None:
    """Show every sample of CASE with what the laboratory says of it, and what is held apart.

    Example: swabwright results show CASE
    """
    shown = shown_results(read_case(case))
    if as_json:
        click.echo(json.dumps(asdict(shown), indent=2, ensure_ascii=False))
        return
    for line in shown_lines(shown):
        click.echo(line)
