"""Statements of invented phones, and records made of them."""

import hashlib
import json
from typing import Any

from swabwright.case.canonical import bytes_hash
from swabwright.case.numbers import sample_numbers
from swabwright.record.entry import Statement
from swabwright.record.spelling import statement_bytes
from swabwright.record.values import NO_HASH

_SERIES = sample_numbers("Juniper Lane (invented)", "visit-1", 1, ())
NUMBERS = tuple(next(_SERIES) for _ in range(40))


class Phone:
    """A phone that makes statements without knowing of any other."""

    def __init__(self, name: str, by: str = "Ada Lind") -> None:
        self.name, self.by, self.sequence, self.previous = name, by, 0, NO_HASH

    def says(self, kind: str, by: str | None = None, **fields: Any) -> Statement:
        """The phone's next statement of this kind."""
        self.sequence += 1
        statement = Statement.model_validate_json(
            json.dumps(
                {
                    "id": hashlib.sha256(f"{self.name}-{self.sequence}".encode()).hexdigest()[:32],
                    "device": self.name,
                    "sequence": self.sequence,
                    "device_previous": self.previous,
                    "at": f"2026-03-05T09:{self.sequence // 60 % 60:02d}:{self.sequence % 60:02d}+01:00",
                    "by": by or self.by,
                    "body": {"kind": kind, **fields},
                }
            )
        )
        self.previous = bytes_hash(statement_bytes(statement))
        return statement

    def notes(self, words: str = "wet") -> Statement:
        """A statement that no rule touches."""
        return self.says("marks", site="S014", marks=[words])

    def collects(self, sample: str, **fields: Any) -> Statement:
        """A zone 3 sample taken."""
        return self.says("collected", sample=sample, sample_kind="surface", site="S014", zone=3, device="SP", **fields)
