"""Use case: statements that phones wrote, taken into a case's record: each once, in order, or none."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from heapq import merge
from pathlib import Path

from swabwright.case.words import counted
from swabwright.errors import DocumentRefused, Fault, SwabwrightError
from swabwright.plant.reading import read_document
from swabwright.record.custody import Contradiction, Note
from swabwright.record.entry import Statement
from swabwright.record.ground import UNKNOWN_GROUND, Ground
from swabwright.record.journal import Acknowledged, open_journal, read_record
from swabwright.record.values import FileRef
from swabwright.record.verify import file_hash
from swabwright.work.record_files import keep_file
from swabwright.work.record_show import contradictions, notes


@dataclass(frozen=True)
class TakenIn:
    """What came of a phone's file."""

    devices: tuple[str, ...]
    entered: tuple[int, ...]
    """Numbers of the new entries."""
    already: int
    """Statements that were in the record before."""
    hash: str
    """Of the entry that is last now."""
    contradictions: tuple[Contradiction, ...] = ()
    """That the record did not have before."""
    notes: tuple[Note, ...] = ()
    """Likewise: steps left untold, names that the plant's document does not hold."""

    @property
    def sentence(self) -> str:
        """How many were entered, of which phones, the hash to note down, and each new contradiction and note."""
        told = [f"Contradiction in entry {one.entry}: {one.words}" for one in self.contradictions]
        told += [f"Note on entry {one.entry}: {one.words}." for one in self.notes]
        return "\n".join((self._head(), *told))

    def _head(self) -> str:
        new, before = counted(len(self.entered), "statement"), self.already
        already = f", {before} {'was' if before == 1 else 'were'} here already" if before else ""
        return f"Taken in: {new} of {', '.join(self.devices)}{already}. Hash of the record now: {self.hash}"


def take_in(case: Path, file: Path, files: Path | None = None, ground: Ground = UNKNOWN_GROUND) -> TakenIn:
    """Take the statements of a phone's file (one JSON object a line) into the record of the case, all or none.

    Repeated lines and lines in another order come out the same; a statement that is in the record is not repeated.
    `files` is a folder with the photographs that they name. Errors: DocumentRefused naming the line;
    StatementRefused naming what is missing before it; nothing is entered then.
    """
    if not (case / "investigation.json").is_file():
        raise SwabwrightError(f"{case} has no investigation.json; a record belongs to a case folder")
    statements = in_order(read_statements(file))
    with open_journal(case) as journal:
        before = _told(case, ground)
        _keep_files(case, file, statements, files)
        answers = journal.add_all(statements)
        contradicted, noted = _told(case, ground)
        return replace(
            _taken_in(statements, answers, journal.chains.hash),
            contradictions=tuple(one for one in contradicted if one not in before[0]),
            notes=tuple(one for one in noted if one not in before[1]),
        )


def _told(case: Path, ground: Ground) -> tuple[tuple[Contradiction, ...], tuple[Note, ...]]:
    entries = read_record(case)
    return contradictions(entries, ground), notes(entries, ground)


def _taken_in(statements: Sequence[Statement], answers: Sequence[Acknowledged], head: str) -> TakenIn:
    """A line that stands twice in the file is counted once."""
    by_number = {answer.number: answer for answer in reversed(answers)}
    new = tuple(sorted(number for number, answer in by_number.items() if not answer.already))
    devices = tuple(dict.fromkeys(statement.device for statement in statements))
    return TakenIn(devices, new, len(by_number) - len(new), head)


def read_statements(file: Path) -> tuple[Statement, ...]:
    """The statements of a file, one a line; refused with the first line that is none."""
    try:
        lines = file.read_bytes().decode("utf-8").split("\n")
    except UnicodeDecodeError as error:
        raise DocumentRefused(file.name, [Fault("", f"is not UTF-8 text (byte {error.start})")]) from error
    read = [
        read_document(Statement, line, f"{file.name}: line {at}") for at, line in enumerate(lines, 1) if line.strip()
    ]
    if not read:
        raise DocumentRefused(file.name, [Fault("", "holds no statement; a phone's file has one JSON object a line")])
    return tuple(read)


def in_order(statements: Iterable[Statement]) -> tuple[Statement, ...]:
    """Each device's statements by their own count, those of several devices merged by the time they were made."""
    by_device: dict[str, list[Statement]] = {}
    for statement in statements:
        by_device.setdefault(statement.device, []).append(statement)
    chains = [sorted(chain, key=lambda one: one.sequence) for _, chain in sorted(by_device.items())]
    return tuple(merge(*chains, key=lambda one: datetime.fromisoformat(one.at)))


def _keep_files(case: Path, document: Path, statements: Iterable[Statement], folder: Path | None) -> None:
    """Copy what the statements name from the folder into the case; nothing is copied when one is missing."""
    wanted = [one for statement in statements for one in statement.body.files() if not _held(case, one)]
    given = {} if folder is None else {file_hash(one): one for one in sorted(folder.iterdir()) if one.is_file()}
    faults = [
        Fault(f"file {one.name}", "is in neither the case nor the folder of files; give the folder with --files")
        for one in dict.fromkeys(wanted)
        if one.sha256 not in given
    ]
    if faults:
        raise DocumentRefused(document.name, faults)
    for one in dict.fromkeys(wanted):
        keep_file(case, given[one.sha256], one.ending)


def _held(case: Path, file: FileRef) -> bool:
    return (case / "files" / file.name).is_file()
