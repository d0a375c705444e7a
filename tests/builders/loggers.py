"""Files of an invented temperature logger, and the record of a container that it travelled in."""

import json
from pathlib import Path

import xlsxwriter
from builders.statements import NUMBERS
from click.testing import CliRunner

from swabwright.cli.main import swabwright
from swabwright.errors import SwabwrightError
from swabwright.plant.registry import load_figures
from swabwright.record.logger_file import read_logger
from swabwright.record.moments import written
from swabwright.record.read_as import ReadAs

HEADING = "Date time,Temperature (°C)"
ROWS = ("2026-03-05 14:20,4.0", "2026-03-05 14:25,6.0", "2026-03-05 14:30,10.0", "2026-03-05 14:35,5.0")
WHO = ("--by", "Ada Lind", "--on", "office-1")


def text_of(*rows, heading=HEADING, above=()):
    return "\n".join([*above, heading, *(rows or ROWS)]) + "\n"


def file_of(folder, *rows, name="logger.csv", **lines):
    path = Path(folder) / name
    path.write_text(text_of(*rows, **lines), "utf-8")
    return path


def workbook(path, rows, sheets_before=()):
    """A workbook whose last sheet holds the rows; dates and times get a date's format."""
    book = xlsxwriter.Workbook(str(path), {"default_date_format": "yyyy-mm-dd hh:mm"})
    for name in sheets_before:
        book.add_worksheet(name).write_row(0, 0, ["Report", "of an invented logger"])
    sheet = book.add_worksheet("Readings")
    for number, row in enumerate(rows):
        sheet.write_row(number, 0, row)
    book.close()
    return path


def read(path, **asked):
    return read_logger(path, ReadAs(**asked), load_figures())


def refusal(path, **asked):
    """The sentence with which a file is refused; empty when it is read."""
    try:
        read(path, **asked)
    except SwabwrightError as error:
        return str(error)
    return ""


def moments(file, zone):
    return [written(at, zone) for at in file.readings.seconds]


def run(*arguments):
    """What a command prints, or the sentence with which it refuses."""
    result = CliRunner().invoke(swabwright, list(map(str, arguments)))
    if isinstance(result.exception, SwabwrightError):
        return str(result.exception)
    assert result.exit_code == 0, result.output
    return result.output


def enter(case, kind, at, **fields):
    """Add an entry at an hour and minute of 5 March 2026, or at a whole time."""
    when = at if "T" in at else f"2026-03-05T{at}:00+01:00"
    return run("record", "add", case, kind, json.dumps(fields), *WHO, "--at", when)


def packed_case(folder):
    """A case with two samples, collected at 14:00 and 14:10, packed with logger TL-1 in K-1 at 14:22 and sealed."""
    (folder / "investigation.json").write_text("{}")
    for sample, at in zip(NUMBERS[:2], ("14:00", "14:10"), strict=True):
        enter(folder, "collected", at, sample=sample, sample_kind="surface", site="S014", zone=3, device="SP")
    enter(folder, "container_packed", "14:22", container="K-1", samples=NUMBERS[:2], logger="TL-1")
    enter(folder, "seal_set", "14:23", container="K-1", seal="0088", witness="Bo Holm")
    return folder


def received(case, at="14:35", seal="0088", **more):
    """The laboratory receives both samples of the case."""
    seals = [{"container": "K-1", "seal": seal, "intact": True}]
    lab = {"laboratory": "State laboratory", "received_by": "Cy Moe", "condition": "cold, dry"}
    return enter(case, "laboratory_receipt", at, samples=NUMBERS[:2], seals=seals, **lab, **more)


def logged(case, path, *more, logger="TL-1", container="K-1"):
    """Enter a logger's file, its clock in Oslo."""
    where = ("--container", container, "--logger", logger, "--time-zone", "Europe/Oslo")
    return run("record", "logger", case, path, *where, *WHO, "--at", "2026-03-06T09:00:00+01:00", *more)
