"""The chains: one through the investigation, one through every phone and computer; each line is held against both."""

import json
from dataclasses import dataclass, field
from typing import Any

from pydantic import ValidationError

from swabwright.case.canonical import bytes_hash
from swabwright.errors import SwabwrightError
from swabwright.plant.field_faults import field_faults
from swabwright.record.entry import Entry, Statement
from swabwright.record.known import Known
from swabwright.record.spelling import entry_line, spelled_again
from swabwright.record.values import NO_HASH


class RecordBroken(SwabwrightError):
    """The record is not what was written; names the entry, what is wrong, what belongs there and what was found."""

    def __init__(self, entry: int, what: str, expected: str, found: str) -> None:
        self.entry, self.what, self.expected, self.found = entry, what, expected, found
        super().__init__(f"record.jsonl: entry {entry}: {what}: expected {expected}, found {found}")


class StatementRefused(SwabwrightError):
    """A statement that does not continue its device's chain; nothing was written."""


@dataclass(frozen=True)
class DeviceHead:
    """How far the chain of one device has come."""

    sequence: int = 0
    hash: str = NO_HASH


@dataclass
class Chains:
    """Where every chain stands after the entries followed so far."""

    number: int = 0
    hash: str = NO_HASH
    devices: dict[str, DeviceHead] = field(default_factory=dict)
    known: Known = field(default_factory=Known)

    def device(self, name: str) -> DeviceHead:
        """The head of a device's chain; before its first statement an empty one."""
        return self.devices.get(name, DeviceHead())

    def take(self, statement: Statement, statement_hash: str, entry_hash: str) -> None:
        """Move on by one entry that continues every chain."""
        self.number += 1
        self.hash = entry_hash
        self.devices[statement.device] = DeviceHead(statement.sequence, statement_hash)
        self.known.put(statement.id, self.number, statement_hash)

    def follow(self, line: bytes) -> Entry:
        """The entry of the next line, held against both chains; `RecordBroken` names the first fault."""
        place = self.number + 1
        parsed = _parsed(line, place)
        entry = _entry(line, place)
        statement = spelled_again(parsed["statement"])
        again, digest = entry_line(entry.number, entry.previous, statement)
        _hold(place, "number", str(place), str(entry.number))
        _hold(place, "hash of the entry", digest, entry.hash)
        _hold(place, "hash of the entry before", self.hash, entry.previous)
        if again != line:
            raise RecordBroken(place, "spelling", "canonical JSON (RFC 8785)", "the same values spelled otherwise")
        self._hold_device(place, entry.statement)
        self.take(entry.statement, bytes_hash(statement), digest)
        return entry

    def _hold_device(self, place: int, statement: Statement) -> None:
        head = self.device(statement.device)
        _hold(place, f"sequence of {statement.device}", str(head.sequence + 1), str(statement.sequence))
        _hold(place, f"hash of the statement before of {statement.device}", head.hash, statement.device_previous)
        known = self.known.get(statement.id)
        if known is not None:
            raise RecordBroken(place, "id", "one not used before", f"the id of entry {known[0]}")


def _hold(place: int, what: str, expected: str, found: str) -> None:
    if expected != found:
        raise RecordBroken(place, what, expected, found)


def _parsed(line: bytes, place: int) -> dict[str, Any]:
    try:
        parsed = json.loads(line.decode("utf-8"))
    except ValueError as error:
        raise RecordBroken(place, "text", "one JSON object", str(error)) from error
    if not isinstance(parsed, dict):
        raise RecordBroken(place, "text", "one JSON object", f"a {type(parsed).__name__}")
    return parsed


def _entry(line: bytes, place: int) -> Entry:
    try:
        return Entry.model_validate_json(line)
    except ValidationError as error:
        fault = field_faults(Entry, error.errors())[0]
        # The remedy is left out: nothing in a record is mended by hand.
        found = fault.problem.partition(";")[0]
        raise RecordBroken(place, fault.path, "a valid value", "nothing" if found == "is missing" else found) from error
