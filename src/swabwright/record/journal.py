"""The record on disk: read whole, or opened by one writer who only ever adds."""

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from swabwright.case.canonical import bytes_hash
from swabwright.errors import SwabwrightError
from swabwright.record.chain import Chains, StatementRefused
from swabwright.record.disk import open_to_append, set_torn_end_aside, write_whole
from swabwright.record.entry import Entry, Statement
from swabwright.record.lock import only_writer
from swabwright.record.spelling import entry_line, statement_bytes

RECORD_FILE, LOCK_FILE = "record.jsonl", "record.lock"


@dataclass(frozen=True)
class Acknowledged:
    """A statement is on the disk as this entry; `already` when it had been before."""

    number: int
    hash: str
    """Of the entry that is last now."""
    already: bool = False
    torn: str | None = None
    """The file beside the record that a torn end of an earlier run was moved into."""


class Journal:
    """The record of one case, opened for adding."""

    def __init__(self, handle: int, chains: Chains, set_aside: Path | None = None) -> None:
        self._handle = handle
        self._size = os.fstat(handle).st_size
        self.chains = chains
        self.set_aside = set_aside
        """Where a torn end of an earlier run was put, or None."""

    def add(self, statement: Statement) -> Acknowledged:
        """Add one statement; returns when it is on the disk. Sent again, it is acknowledged again and not repeated."""
        return self.add_all((statement,))[0]

    def add_all(self, statements: Sequence[Statement]) -> tuple[Acknowledged, ...]:
        """Add statements in order with one flush, all or none of them: refused when one continues no chain."""
        chains, lines, answers = _Ahead(self.chains), [], []
        for statement in statements:
            spelled = statement_bytes(statement)
            digest = bytes_hash(spelled)
            number = chains.number_of(statement, digest)
            if number is None:
                chains.check(statement)
                line, entry_hash = entry_line(chains.number + 1, chains.hash, spelled)
                chains.take(statement, digest, entry_hash)
                lines.append(line + b"\n")
            answers.append((number or chains.number, number is not None))
        self._write(b"".join(lines))
        chains.keep(self.chains)
        torn = None if self.set_aside is None else self.set_aside.name
        return tuple(Acknowledged(number, self.chains.hash, already, torn) for number, already in answers)

    def _write(self, content: bytes) -> None:
        if not content:
            return
        try:
            write_whole(self._handle, content)
            os.fsync(self._handle)
        except OSError as error:
            # A full disk: what came through of these lines was not acknowledged and must not stand before others.
            os.ftruncate(self._handle, self._size)
            raise SwabwrightError(
                f"cannot write the record: {error.strerror}; nothing was entered, make room and enter it again"
            ) from error
        self._size += len(content)


class _Ahead:
    """The chains as they will stand once the statements of one call are written."""

    def __init__(self, chains: Chains) -> None:
        self._now = chains
        self._taken: list[tuple[Statement, str, str]] = []
        self._new = Chains(chains.number, chains.hash)

    @property
    def number(self) -> int:
        return self._new.number

    @property
    def hash(self) -> str:
        return self._new.hash

    def number_of(self, statement: Statement, digest: str) -> int | None:
        """The entry that holds this very statement already; refused when its id says something else there."""
        known = self._new.known.get(statement.id) or self._now.known.get(statement.id)
        if known is None:
            return None
        if known[1] != digest:
            raise StatementRefused(
                f"statement {statement.id} of {statement.device} is entry {known[0]} already, with other content; "
                "nothing in the record is edited: supersede that entry instead"
            )
        return known[0]

    def check(self, statement: Statement) -> None:
        """Refuse a statement that is not the next of its device."""
        device = statement.device
        head = self._new.devices.get(device) or self._now.device(device)
        wanted = head.sequence + 1
        if statement.sequence > wanted:
            raise StatementRefused(
                f"{device} sends its statement {statement.sequence}, but {_missing(wanted, statement.sequence - 1)} "
                "not here yet; send from there on"
            )
        if statement.sequence < wanted or statement.device_previous != head.hash:
            raise StatementRefused(
                f"{device} sends another statement {statement.sequence} than the record continues from; a phone or "
                "computer that was set back needs a new name"
            )

    def take(self, statement: Statement, digest: str, entry_hash: str) -> None:
        self._taken.append((statement, digest, entry_hash))
        self._new.take(statement, digest, entry_hash)

    def keep(self, chains: Chains) -> None:
        for taken in self._taken:
            chains.take(*taken)


def _missing(first: int, last: int) -> str:
    return f"statement {first} is" if first == last else f"statements {first} to {last} are"


@contextmanager
def open_journal(case: Path) -> Iterator[Journal]:
    """The record of the case folder, for this process alone; a record that is broken is not added to."""
    path = case / RECORD_FILE
    with only_writer(case / LOCK_FILE):
        aside = set_torn_end_aside(path)
        chains = Chains()
        for line in lines_of(path):
            chains.follow(line)
        handle = open_to_append(path)
        try:
            yield Journal(handle, chains, aside)
        finally:
            os.close(handle)


def read_record(case: Path) -> tuple[Entry, ...]:
    """Every entry of the case folder, the chains checked; `RecordBroken` names the first fault. Writes nothing."""
    chains = Chains()
    return tuple(chains.follow(line) for line in lines_of(case / RECORD_FILE))


def lines_of(path: Path) -> Iterator[bytes]:
    """Whole lines of a record, without line ends; a torn last line was never acknowledged and is left out."""
    if not path.exists():
        return
    with path.open("rb") as file:
        for line in file:
            if line.endswith(b"\n"):
                yield line[:-1]
