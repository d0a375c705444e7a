"""Options that several commands share."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

CASE = click.Path(path_type=Path, file_okay=False)


def case_argument(command: Callable[..., Any]) -> Callable[..., Any]:
    """The CASE argument: a folder with plant.json and investigation.json."""
    return click.argument("case", type=CASE)(command)


def visit_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """The --visit option: which visit of the investigation; the next one without an accepted plan by default."""
    return click.option("--visit", "visit_id", help="Which visit; by default the next without an accepted plan.")(
        command
    )


def json_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """The --json option: machine-readable output on the standard stream, nothing else there."""
    return click.option("--json", "as_json", is_flag=True, help="Print JSON instead of sentences.")(command)


def paper_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """The --paper option: the sheet that plan and labels are printed on."""
    paper = click.Choice(["a4", "letter"])
    return click.option("--paper", type=paper, default="a4", show_default=True, help="Paper size.")(command)
