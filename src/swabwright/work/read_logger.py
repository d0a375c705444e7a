"""Use case: a temperature logger's file is read, shown as it was understood, and entered into the record."""

from dataclasses import dataclass, field
from pathlib import Path

from swabwright.case.folder import case_figures
from swabwright.case.words import counted
from swabwright.errors import SwabwrightError
from swabwright.plant.figures import Figures
from swabwright.record.journal import Acknowledged
from swabwright.record.logger_file import LoggerFile, read_logger
from swabwright.record.moments import read_zone, said_span, written
from swabwright.record.read_as import ReadAs
from swabwright.record.verify import file_hash
from swabwright.work.record_add import NewEntry, add_entry


@dataclass(frozen=True)
class LoggerEntry:
    """A logger's file for one container, entered by whom, where and when."""

    container: str
    logger: str
    file: Path
    by: str
    device: str
    at: str | None = None
    asked: ReadAs = field(default_factory=ReadAs)


@dataclass(frozen=True)
class LoggerRead:
    """The file as it was understood."""

    file: LoggerFile
    said: tuple[str, ...]
    sha256: str
    """Of the bytes that were read."""


def look_at_logger(case: Path, path: Path, asked: ReadAs) -> LoggerRead:
    """How the file is understood under the figures of the case; enters nothing."""
    if not path.is_file():
        raise SwabwrightError(f"no file {path}; give the logger's CSV or XLSX file")
    figures, sha256 = case_figures(case), file_hash(path)
    file = read_logger(path, asked, figures)
    return LoggerRead(file, (*file.said, *_readings_said(file, figures)), sha256)


def enter_logger(case: Path, new: LoggerEntry, read: LoggerRead) -> Acknowledged:
    """Keep the file's own bytes and enter how it was read; all of it or nothing."""
    if file_hash(new.file) != read.sha256:
        raise SwabwrightError(f"{new.file} changed while it was read; nothing was entered, enter it again")
    fields = {
        "container": new.container,
        "logger": new.logger,
        "read_as": read.file.read_as.model_dump(mode="json", exclude_none=True),
    }
    return add_entry(case, NewEntry("logger_data", new.by, new.device, fields, new.at, new.file))


def _readings_said(file: LoggerFile, figures: Figures) -> list[str]:
    readings = file.readings
    zone = read_zone(file.read_as.time_zone or "UTC")
    lowest, highest = min(readings.temperatures_c), max(readings.temperatures_c)
    usual = readings.usual_interval_seconds
    every = "" if usual is None else f", usually every {usual / 60:.3g} minutes"
    span = said_span(readings.seconds[0], readings.seconds[-1], zone)
    said = f"{counted(len(readings.seconds), 'reading')} {span}{every}; {lowest:.1f} to {highest:.1f} °C."
    gaps = readings.gaps(figures.number("cold_chain.gap_intervals"))
    return [
        said,
        *(
            f"Not known for {gap.minutes:.0f} minutes, {said_span(gap.begins, gap.ends, zone)}: no reading there."
            for gap in gaps
        ),
    ]


def read_document(read: LoggerRead) -> dict[str, object]:
    """The file as it was understood, as plain data."""
    zone = read_zone(read.file.read_as.time_zone or "UTC")
    readings = read.file.readings
    return {
        "read_as": read.file.read_as.model_dump(mode="json", exclude_none=True),
        "said": list(read.said),
        "readings": [
            {"at": written(at, zone), "temperature_c": temperature}
            for at, temperature in zip(readings.seconds, readings.temperatures_c, strict=True)
        ],
    }
