"""`swabwright explain`: why one site's figures are what they are."""

from pathlib import Path

import click

from swabwright.case.folder import read_case
from swabwright.cli.options import case_argument, json_option, visit_option
from swabwright.work.explain_site import explain_site, explanation_as_json, explanation_as_text


@click.command()
@case_argument
@click.argument("site")
@visit_option
@json_option
def explain(case: Path, site: str, visit_id: str | None, *, as_json: bool) -> None:
    """Explain SITE of CASE: its weight, what a sample reaches there, and what reaches it from where, with sources.

    Example: swabwright explain examples/juniper-lane S014
    """
    opened = read_case(case)
    explanation = explain_site(opened, opened.visit(visit_id), site)
    click.echo(explanation_as_json(explanation) if as_json else explanation_as_text(explanation))
