"""Adding one entry to a case's record: the file kept first, the entry held against the record, then written."""

import json
import secrets
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from swabwright.case.writing import write_all
from swabwright.errors import DocumentRefused, Fault, SwabwrightError, did_you_mean
from swabwright.plant.reading import read_document
from swabwright.record.entry import KINDS, Statement
from swabwright.record.journal import Acknowledged, Journal, open_journal, read_record
from swabwright.record.rules import check_new
from swabwright.record.verify import file_hash


@dataclass(frozen=True)
class NewEntry:
    """What a person enters: kind, fields, who, on which device, when, and a file that belongs to it."""

    kind: str
    by: str
    device: str
    fields: dict[str, Any] = field(default_factory=dict)
    at: str | None = None
    """Now, when left out."""
    file: Path | None = None


def add_entry(case: Path, new: NewEntry) -> Acknowledged:
    """Add the entry to the record of the case folder; refused, with nothing entered, when it cannot be true."""
    if new.kind not in KINDS:
        raise SwabwrightError(f"no kind of entry '{new.kind}'{did_you_mean(new.kind, KINDS)}")
    if not (case / "investigation.json").is_file():
        raise SwabwrightError(f"{case} has no investigation.json; a record belongs to a case folder")
    with open_journal(case) as journal:
        return add_to(journal, case, new)


def add_to(journal: Journal, case: Path, new: NewEntry) -> Acknowledged:
    """Add the entry to an open record; refused like `add_entry`."""
    statement = _statement(journal, new)
    check_new(read_record(case), statement)
    if new.file is not None:
        _keep(case, new.file)
    _check_files(case, statement)
    return journal.add(statement)


def _statement(journal: Journal, new: NewEntry) -> Statement:
    head = journal.chains.device(new.device)
    fields = dict(new.fields)
    if new.file is not None:
        fields["file"] = _reference(new.file)
    document = {
        "id": secrets.token_hex(16),
        "device": new.device,
        "sequence": head.sequence + 1,
        "device_previous": head.hash,
        "at": new.at or datetime.now().astimezone().isoformat(timespec="seconds"),
        "by": new.by,
        "body": {**fields, "kind": new.kind},
    }
    return read_document(Statement, json.dumps(document), "entry")


def _reference(file: Path) -> dict[str, Any]:
    if not file.is_file():
        raise SwabwrightError(f"no file {file}")
    ending = file.suffix.removeprefix(".").lower() or "bin"
    return {"sha256": file_hash(file), "ending": ending, "size_bytes": file.stat().st_size}


def _keep(case: Path, file: Path) -> None:
    """Copy the bytes as they are into files/, whole or not at all."""
    reference = _reference(file)
    name = f"{reference['sha256']}.{reference['ending']}"
    if (case / "files" / name).exists():
        return
    try:
        write_all(case / "files", {name: file.read_bytes()})
    except OSError as error:
        raise SwabwrightError(f"cannot keep {file} in {case / 'files'}: {error}") from error


def _check_files(case: Path, statement: Statement) -> None:
    faults = [
        Fault("body", f"no file files/{file.name} in the case; give the file itself with --file")
        for file in statement.body.files()
        if not (case / "files" / file.name).is_file()
    ]
    if faults:
        raise DocumentRefused("entry", faults)
