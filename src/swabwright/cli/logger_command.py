"""`swabwright record logger`: a temperature logger's file read, shown as understood, and entered."""

import json
from pathlib import Path
from typing import Any, get_args

import click

from swabwright.cli.options import case_argument, json_option
from swabwright.errors import SwabwrightError
from swabwright.plant.reading import read_document as read_strictly
from swabwright.record.read_as import DateOrder, ReadAs, Unit
from swabwright.work.read_logger import LoggerEntry, enter_logger, look_at_logger, read_document

OVERRULES = (
    click.option("--time-zone", help="Of the logger's clock: Europe/Oslo, America/Chicago, +01:00."),
    click.option("--unit", type=click.Choice(get_args(Unit)), help="Of the readings."),
    click.option("--date-order", type=click.Choice(get_args(DateOrder)), help="Of dates such as 05/03/2026."),
    click.option("--sheet", help="Of a workbook, by name."),
    click.option("--heading-row", type=int, help="The row above the readings; 0: none."),
    click.option("--date-column", help="By letter, where date and time of day stand apart."),
    click.option("--time-column", help="By letter."),
    click.option("--temperature-column", help="By letter."),
    click.option("--leave-out", "left_out", type=int, multiple=True, help="A row not to be read. Repeat."),
)
"""One option for each guess."""


def _overrules(command: Any) -> Any:
    for option in reversed(OVERRULES):
        command = option(command)
    return command


@click.command("logger")
@case_argument
@click.argument("file", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--container", required=True, help="The container that the logger travelled in.")
@click.option("--logger", "logger_name", required=True, help="The logger's own number.")
@click.option("--by", required=True, help="Who makes the entry.")
@click.option("--on", "device", required=True, help="On which phone or computer, a short lower-case name.")
@click.option("--at", help="When, with offset: 2026-03-05T09:30:00+01:00. Now, when left out.")
@click.option("--look", is_flag=True, help="Only show how the file is understood; enter nothing.")
@_overrules
@json_option
def logger_command(*, case: Path, file: Path, look: bool, as_json: bool, logger_name: str, **given: Any) -> None:
    """Read a temperature logger's FILE (CSV or XLSX), show how it was understood, and enter it into CASE.

    Columns, unit and time zone are guessed from heading and lines above; each guess has an option that overrules it.
    The file's own bytes are kept.

    \b
    Example: swabwright record logger CASE logger.csv --container K-1 \\
      --logger TL-0417 --time-zone Europe/Oslo --by "Ada Lind" --on office-1
    """
    about = {name: given.pop(name) for name in ("container", "by", "device", "at")}
    asked = _asked(given)
    read = look_at_logger(case, file, asked)
    done = None if look else enter_logger(case, LoggerEntry(logger=logger_name, file=file, asked=asked, **about), read)
    if as_json:
        entered = None if done is None else {"entry": done.number, "hash": done.hash}
        click.echo(json.dumps({**read_document(read), "entered": entered}, indent=2, ensure_ascii=False))
        return
    for line in read.said:
        click.echo(line)
    click.echo(
        "Nothing was entered." if done is None else f"Entered: entry {done.number}. Hash of the record now: {done.hash}"
    )


def _asked(given: dict[str, Any]) -> ReadAs:
    for name in ("date_column", "time_column", "temperature_column"):
        if given[name]:
            given[name] = given[name].upper()
    try:
        return read_strictly(
            ReadAs, json.dumps({name: value for name, value in given.items() if value is not None}), "options"
        )
    except SwabwrightError as error:
        raise SwabwrightError(str(error).replace("_", "-")) from error
