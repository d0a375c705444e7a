"""Adding one entry to a case's record: the file kept first, the entry held against the record, then written."""

import json
import secrets
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.reading import read_document
from swabwright.record.entry import BODIES, Entry, Statement
from swabwright.record.ground import UNKNOWN_GROUND
from swabwright.record.journal import Acknowledged, Journal, open_journal, read_record
from swabwright.record.rules import check_new
from swabwright.record.sampling import Collected
from swabwright.work.record_files import check_files, file_reference, keep_file
from swabwright.work.record_ground import read_ground

OTHER_ENTRIES = ("entry", "amends")
"""Fields that name another entry: by its id, or at the desk by its number."""


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
    if new.kind not in BODIES:
        raise SwabwrightError(f"no kind of entry '{new.kind}'{did_you_mean(new.kind, tuple(BODIES))}")
    if not (case / "investigation.json").is_file():
        raise SwabwrightError(f"{case} has no investigation.json; a record belongs to a case folder")
    with open_journal(case) as journal:
        return add_to(journal, case, new)


def add_to(journal: Journal, case: Path, new: NewEntry) -> Acknowledged:
    """Add the entry to an open record; refused like `add_entry`."""
    entries, coming = read_record(case), None if new.file is None else file_reference(new.file)
    statement = _statement(journal, new, _with_file(new, coming), entries)
    # Only what was collected is held against the plant: its faults must not keep a hand-over out.
    ground = read_ground(case) if isinstance(statement.body, Collected) else UNKNOWN_GROUND
    check_new(entries, statement, ground)
    check_files(case, statement, coming)
    if new.file is not None:
        keep_file(case, new.file)
        # A file that was changed meanwhile lies there under another hash than the entry names.
        check_files(case, statement)
    return journal.add(statement)


def _with_file(new: NewEntry, coming: dict[str, Any] | None) -> dict[str, Any]:
    """The fields with the file that comes along; a kind that names photographs takes it as one of them."""
    if coming is None:
        return new.fields
    if "photographs" in BODIES[new.kind].model_fields:
        given = new.fields.get("photographs", [])
        return {**new.fields, "photographs": [*given, coming] if isinstance(given, list) else given}
    return {**new.fields, "file": coming}


def _statement(journal: Journal, new: NewEntry, given: dict[str, Any], entries: Sequence[Entry]) -> Statement:
    head = journal.chains.device(new.device)
    fields = {name: _by_number(name, value, entries) for name, value in given.items()}
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


def _by_number(name: str, value: Any, entries: Sequence[Entry]) -> Any:
    """The id of the entry that a person names by its number in the record; any other value as it is."""
    if name not in OTHER_ENTRIES or not isinstance(value, int) or isinstance(value, bool):
        return value
    if not 1 <= value <= len(entries):
        raise SwabwrightError(f"{name}: the record has no entry {value}; `record show` tells the numbers")
    return entries[value - 1].statement.id
