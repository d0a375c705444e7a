"""`swabwright sites`: the sites of a plant."""

from pathlib import Path

import click

from swabwright.case.folder import read_case
from swabwright.cli.options import case_argument, json_option
from swabwright.work.list_sites import list_sites, sites_as_json, sites_as_text


@click.command()
@case_argument
@json_option
def sites(case: Path, *, as_json: bool) -> None:
    """List the sites of CASE: code, the plant's own name, site type, room, zone, devices, what opening asks for.

    Also says what is missing or unconfirmed in the plant document.

    Example: swabwright sites examples/juniper-lane
    """
    listed = list_sites(read_case(case))
    click.echo(sites_as_json(listed) if as_json else sites_as_text(listed))
