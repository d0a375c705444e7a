"""`swabwright custody`: containers, seals, hands, temperatures and deadlines as the record has them."""

import json
from datetime import UTC, datetime
from pathlib import Path

import click

from swabwright.cli.options import case_argument, json_option
from swabwright.errors import SwabwrightError
from swabwright.work.custody_said import custody_document, custody_lines
from swabwright.work.custody_story import custody_story


@click.command()
@case_argument
@click.option("--as-of", help="Clocks as of this time, with offset: 2026-03-06T08:00:00+01:00. Now, when left out.")
@json_option
def custody(case: Path, as_of: str | None, *, as_json: bool) -> None:
    """What the record says of every container and sample: seals, hands, temperatures, hours to analysis.

    Facts only; the laboratory and the lead decide what they mean.

    Example: swabwright custody CASE --as-of 2026-03-06T08:00:00+01:00
    """
    if not case.is_dir():
        raise SwabwrightError(f"no folder {case}")
    story = custody_story(case, _seconds(as_of))
    if as_json:
        click.echo(json.dumps(custody_document(story), indent=2, ensure_ascii=False))
        return
    for line in custody_lines(story):
        click.echo(line)


def _seconds(as_of: str | None) -> int:
    try:
        at = datetime.now(UTC) if as_of is None else datetime.fromisoformat(as_of)
    except ValueError:
        raise SwabwrightError(f"--as-of: '{as_of}' is no time; write it like 2026-03-06T08:00:00+01:00") from None
    if at.tzinfo is None:
        raise SwabwrightError(f"--as-of: '{as_of}' has no offset; write it like 2026-03-06T08:00:00+01:00")
    return round(at.timestamp())
