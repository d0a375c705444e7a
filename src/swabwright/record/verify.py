"""Whether the record is what was written: chains, files, accepted plans; the first fault is named exactly."""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from swabwright.record.casework import PlanAccepted
from swabwright.record.chain import Chains, RecordBroken
from swabwright.record.disk import whole_size
from swabwright.record.entry import Entry
from swabwright.record.journal import RECORD_FILE, lines_of


@dataclass(frozen=True)
class Verified:
    """What was found whole."""

    entries: int
    files: int
    plans: int
    devices: tuple[str, ...]
    head: str
    """Hash of the last entry: whoever kept it elsewhere can tell that nothing was changed or cut off since."""
    torn_bytes: int
    """Bytes after the last line end: an entry that was never acknowledged, or one whose end was cut off."""


def verify_record(case: Path, head: str | None = None) -> Verified:
    """The whole record of a case held against its chains, files and plans; `RecordBroken` names the first fault.

    With `head`, the hash of an entry that was noted down earlier must be in the chain.
    """
    chains, files, plans, noted = Chains(), {}, 0, head is None
    for line in lines_of(case / RECORD_FILE):
        entry = chains.follow(line)
        plans += _check_plan(case, entry)
        noted |= entry.hash == head
        for file in entry.statement.body.files():
            # Named by several entries, a file is read once.
            if file.name not in files:
                files[file.name] = file
                _check_file(entry.number, case / "files" / file.name, file.sha256, f"file files/{file.name}")
    if head is not None and not noted:
        raise RecordBroken(
            chains.number, "hash noted down earlier", head, "no entry with it; the end was cut or altered"
        )
    return Verified(chains.number, len(files), plans, tuple(sorted(chains.devices)), chains.hash, _torn(case))


def _torn(case: Path) -> int:
    path = case / RECORD_FILE
    return path.stat().st_size - whole_size(path) if path.exists() else 0


def _check_plan(case: Path, entry: Entry) -> int:
    body = entry.statement.body
    if not isinstance(body, PlanAccepted):
        return 0
    name = f"plans/{body.visit}.json"
    _check_file(entry.number, case / name, body.plan, f"accepted plan {name}")
    return 1


def _check_file(entry: int, path: Path, expected: str, what: str) -> None:
    if not path.is_file():
        raise RecordBroken(entry, what, f"SHA-256 {expected}", "no such file")
    found = file_hash(path)
    if found != expected:
        raise RecordBroken(entry, what, f"SHA-256 {expected}", f"SHA-256 {found}")


def file_hash(path: Path) -> str:
    """SHA-256 of a file's bytes, read piece by piece."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def not_accepted(case: Path, entries: Iterable[Entry]) -> tuple[str, ...]:
    """Plans that lie in plans/ without an entry that says they were accepted."""
    known = {body.visit for entry in entries if isinstance(body := entry.statement.body, PlanAccepted)}
    return tuple(file.name for file in sorted((case / "plans").glob("*.json")) if file.stem not in known)
