"""The logger files of a case read again from files/, as their entries say; what cannot be read is told."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from swabwright.errors import SwabwrightError
from swabwright.plant.figures import Figures
from swabwright.record.entry import Entry
from swabwright.record.logger_file import read_logger
from swabwright.record.read_as import ReadAs
from swabwright.record.readings import Readings, joined
from swabwright.record.standing import standing
from swabwright.record.transport import LoggerData
from swabwright.record.verify import file_hash


@dataclass(frozen=True)
class LoggerOfContainer:
    """All readings of one logger that travelled with one container."""

    container: str
    logger: str
    readings: Readings
    time_zone: str | None
    """In which its clock ran; None when its times carry offsets or nothing was read."""
    faults: tuple[str, ...]
    """Files that were not read, and why."""


def loggers_of(case: Path, entries: Iterable[Entry], figures: Figures) -> tuple[LoggerOfContainer, ...]:
    """Every logger of every container in the record, its files joined in order of time."""
    bodies: dict[tuple[str, str], list[LoggerData]] = {}
    for entry in standing(entries):
        body = entry.statement.body
        if isinstance(body, LoggerData):
            bodies.setdefault((body.container, body.logger), []).append(body)
    return tuple(_logger(case, of, files, figures) for of, files in bodies.items())


def _logger(case: Path, of: tuple[str, str], bodies: list[LoggerData], figures: Figures) -> LoggerOfContainer:
    parts, faults = [], []
    zone = next((body.read_as.time_zone for body in bodies if body.read_as and body.read_as.time_zone), None)
    for body in bodies:
        try:
            parts.append(_read(case / "files" / body.file.name, body, figures))
        except SwabwrightError as error:
            faults.append(str(error))
    try:
        readings = joined(parts)
    except SwabwrightError as error:
        readings, faults = Readings(), [*faults, str(error)]
    return LoggerOfContainer(*of, readings, zone, tuple(faults))


def _read(path: Path, body: LoggerData, figures: Figures) -> Readings:
    if not path.is_file():
        raise SwabwrightError(f"files/{path.name} is missing; run swabwright record verify")
    if file_hash(path) != body.file.sha256:
        raise SwabwrightError(f"files/{path.name} is not what was entered; run swabwright record verify")
    return read_logger(path, body.read_as or ReadAs(), figures).readings
