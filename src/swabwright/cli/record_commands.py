"""`swabwright record`: what was done and found, entered once, never edited, checked to the byte."""

import json
import sys
from dataclasses import asdict
from pathlib import Path
from typing import Any

import click

from swabwright.case.numbers import read_number
from swabwright.case.words import counted
from swabwright.cli.logger_command import logger_command
from swabwright.cli.options import case_argument, json_option
from swabwright.errors import SwabwrightError
from swabwright.plant.json_text import parse_json
from swabwright.record.entry import KINDS, Entry
from swabwright.record.journal import read_record
from swabwright.record.verify import not_accepted, verify_record
from swabwright.work.record_add import NewEntry, add_entry
from swabwright.work.record_ground import ground_as_far_as_known
from swabwright.work.record_show import notes, record_document, record_lines
from swabwright.work.record_take_in import take_in

FILE = click.Path(path_type=Path, dir_okay=False)
FILE_THERE = click.Path(path_type=Path, dir_okay=False, exists=True)
FOLDER_THERE = click.Path(path_type=Path, file_okay=False, exists=True)


@click.group()
def record() -> None:
    """Enter what was done and found, show it, and check that nothing was changed."""


@record.command("add", epilog=f"KIND is one of: {', '.join(KINDS)}. The page of the record tells the fields of each.")
@case_argument
@click.argument("kind")
@click.argument("fields", default="{}")
@click.option("--by", required=True, help="Who makes the entry.")
@click.option("--on", "device", required=True, help="On which phone or computer, a short lower-case name.")
@click.option("--at", help="When, with offset: 2026-03-05T09:30:00+01:00. Now, when left out.")
@click.option("--file", type=FILE, help="The photograph, report or logger file; its bytes are kept in files/.")
@json_option
def add_command(*, case: Path, kind: str, fields: str, as_json: bool, **given: Any) -> None:
    """Add an entry of KIND to the record of CASE, with FIELDS as JSON (- reads them from the standard input).

    Refused, with nothing written, when the entry cannot be true beside those before it.

    \b
    Example: swabwright record add CASE hold_asked \\
      '{"line": "line-a", "asked_of": "Plant manager"}' --by "Ada Lind" --on office-1
    """
    text = sys.stdin.read() if fields == "-" else fields
    done = add_entry(case, NewEntry(kind=kind, fields=parse_json(text, "fields"), **given))
    noted = [f"bytes of an entry that was never acknowledged were moved into {done.torn}"] if done.torn else []
    ground, _ = ground_as_far_as_known(case)
    noted += [one.words for one in notes(_entries(case), ground) if one.entry == done.number]
    if as_json:
        click.echo(json.dumps({"entry": done.number, "hash": done.hash, "notes": noted}, indent=2))
        return
    click.echo(f"Entered: entry {done.number}. Hash of the record now: {done.hash}")
    for words in noted:
        click.echo(f"Note: {words}.")


@record.command("show")
@case_argument
@click.option("--sample", help="Only what concerns this sample number.")
@json_option
def show_command(case: Path, sample: str | None, *, as_json: bool) -> None:
    """Show every entry of CASE, and what they say together: hands, containers, actions, moments.

    Example: swabwright record show CASE --sample 7K4M9R-K
    """
    entries, number = _entries(case), None if sample is None else read_number(sample)
    ground, unchecked = ground_as_far_as_known(case)
    if as_json:
        document = {**record_document(entries, number, ground), "not_checked": unchecked}
        click.echo(json.dumps(document, indent=2, ensure_ascii=False))
        return
    for line in record_lines(entries, number, ground):
        click.echo(line)
    if unchecked:
        click.echo(unchecked)


@record.command("take-in")
@case_argument
@click.argument("file", type=FILE_THERE)
@click.option("--files", type=FOLDER_THERE, help="Folder with the photographs that the statements name.")
@json_option
def take_in_command(case: Path, file: Path, files: Path | None, *, as_json: bool) -> None:
    """Take statements that were written on a phone into the record of CASE, each once, all or none.

    FILE holds one statement a line as JSON, in any order, repeats allowed. What cannot be true beside the record is
    kept and told as a contradiction; a statement that is missing in between is named, and nothing is entered.

    Example: swabwright record take-in CASE phone-a.jsonl --files photographs
    """
    ground, unchecked = ground_as_far_as_known(case)
    taken = take_in(case, file, files, ground)
    if as_json:
        click.echo(json.dumps({**asdict(taken), "not_checked": unchecked}, indent=2, ensure_ascii=False))
        return
    click.echo(taken.sentence)
    if unchecked:
        click.echo(unchecked)


@record.command("verify")
@case_argument
@click.option("--head", help="A hash of the record noted down earlier; it must still be in the chain.")
@json_option
def verify_command(case: Path, head: str | None, *, as_json: bool) -> None:
    """Check chains, files and accepted plans of CASE, and name the first fault exactly.

    Example: swabwright record verify CASE
    """
    entries = _entries(case)
    found = verify_record(case, head)
    if as_json:
        click.echo(json.dumps(vars(found), indent=2))
        return
    click.echo(
        f"Whole: {_entries_said(found.entries)} of {counted(len(found.devices), 'device')}, "
        f"{counted(found.files, 'file')}, {counted(found.plans, 'accepted plan')}. Hash of the last entry: {found.head}"
    )
    if found.torn_bytes:
        click.echo(
            f"After the last whole entry stand {found.torn_bytes} bytes without a line end: an entry that was never "
            "acknowledged, or one that was cut. The next entry moves them into a file beside the record."
        )
    for name in not_accepted(case, entries):
        click.echo(f"plans/{name} has no entry that says it was accepted.")


record.add_command(logger_command)


def _entries_said(number: int) -> str:
    return "1 entry" if number == 1 else f"{number} entries"


def _entries(case: Path) -> tuple[Entry, ...]:
    if not case.is_dir():
        raise SwabwrightError(f"no folder {case}")
    return read_record(case)
