"""Writes an invented record: what happened, at fixed times, under ids that follow from the case, device and count."""

import hashlib
import json
import secrets
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any
from unittest.mock import patch

from swabwright.case.canonical import bytes_hash
from swabwright.case.writing import write_all
from swabwright.plant.reading import read_document
from swabwright.record.entry import Statement
from swabwright.record.journal import Journal, open_journal, read_record
from swabwright.record.spelling import statement_bytes
from swabwright.work.record_ground import read_ground
from swabwright.work.record_show import contradictions

NAME = "@"
"""Begins a value that is looked up among what was named before: a sample number, the id of an entry."""


@dataclass(frozen=True)
class Event:
    """One thing that happened: when, what, who entered it on which device, and the bytes of a file that shows it."""

    at: datetime
    kind: str
    fields: dict[str, Any] = field(default_factory=dict)
    by: str = ""
    on: str = ""
    file: tuple[bytes, str] | None = None
    """Bytes and ending."""
    named: str = ""


@dataclass
class Scribe:
    """Enters events into the record of one case."""

    case: Path
    by: str
    on: str
    names: dict[str, Any] = field(default_factory=dict)

    def enter(self, events: Sequence[Event]) -> None:
        """Enter the events in the order of their times; stops where the record would contradict itself."""
        heads: dict[str, tuple[int, str]] = {}
        with open_journal(self.case) as journal:
            journal.add_all([self._statement(journal, heads, event) for event in in_time(events)])
        found = contradictions(read_record(self.case), read_ground(self.case))
        if found:
            raise ValueError("\n".join(f"entry {one.entry}: {one.words}" for one in found))

    def _statement(self, journal: Journal, heads: dict[str, tuple[int, str]], event: Event) -> Statement:
        device = event.on or self.on
        head = journal.chains.device(device)
        sequence, previous = heads.get(device, (head.sequence, head.hash))
        document = {
            "id": _id(self.case.name, device, sequence + 1),
            "device": device,
            "sequence": sequence + 1,
            "device_previous": previous,
            "at": event.at.isoformat(timespec="seconds"),
            "by": event.by or self.by,
            "body": {**self.looked_up(event.fields), **self._kept(event), "kind": event.kind},
        }
        if event.named:
            self.names[event.named] = document["id"]
        statement = read_document(Statement, json.dumps(document), f"{event.kind} at {event.at}")
        heads[device] = (sequence + 1, bytes_hash(statement_bytes(statement)))
        return statement

    def _kept(self, event: Event) -> dict[str, Any]:
        if event.file is None:
            return {}
        content, ending = event.file
        digest = bytes_hash(content)
        write_all(self.case / "files", {f"{digest}.{ending}": content})
        return {"file": {"sha256": digest, "ending": ending, "size_bytes": len(content)}}

    def looked_up(self, value: Any) -> Any:
        """The value with every name in it, such as `@visit-1 S033`, replaced by what was named so."""
        if isinstance(value, str) and value.startswith(NAME):
            return self.names[value.removeprefix(NAME)]
        if isinstance(value, dict):
            return {key: self.looked_up(one) for key, one in value.items()}
        return [self.looked_up(one) for one in value] if isinstance(value, list) else value

    @contextmanager
    def own_ids(self) -> Iterator[None]:
        """Within the block the program's own entries get ids that follow from the case and their count."""
        before = len(read_record(self.case))
        made = iter(range(before + 1, before + 100_000))
        with patch.object(secrets, "token_hex", lambda _bytes: _id(self.case.name, "program", next(made))):
            yield


def in_time(events: Sequence[Event]) -> list[Event]:
    """The events by time; those of one second in the order in which they are told."""
    return sorted(events, key=lambda event: event.at)


def _id(*parts: object) -> str:
    return hashlib.sha256("\n".join(map(str, parts)).encode()).hexdigest()[:32]
