"""Rows that were held apart, as a file of the case that the record names."""

import json
from collections.abc import Sequence
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

from swabwright.case.numbers import read_number
from swabwright.errors import SwabwrightError
from swabwright.record.entry import Entry
from swabwright.record.laboratory import AmendedResult, ReportReceived, Result
from swabwright.record.results import held_apart, reports
from swabwright.record.standing import standing
from swabwright.work.results_report import ReportFacts
from swabwright.work.results_rows import HeldRow

FORMAT, VERSION = "swabwright/held-apart", 1


def held_document(facts: ReportFacts, report: str, held: Sequence[HeldRow]) -> bytes:
    """The rows of a report that were not taken in, with the reason of each; the same rows give the same bytes."""
    document = {
        "format": FORMAT,
        "version": VERSION,
        "laboratory": facts.laboratory,
        "accession": facts.accession,
        "report": report,
        "rows": [asdict(row) for row in held],
    }
    return (json.dumps(document, indent=2, ensure_ascii=False) + "\n").encode()


def held_now(case: Path, entries: Sequence[Entry]) -> tuple[HeldRow, ...]:
    """Every row that is held apart now, as the record's files tell it."""
    return tuple(_since_amended(row, one, entries) for one in _documents(case, entries) for row in _rows(one))


def open_rows(case: Path, entries: Sequence[Entry]) -> dict[str, HeldRow]:
    """Held rows that later reports leave open, by the number of their sample; until then it has no valid result."""
    return {
        number: row
        for one in _documents(case, entries)
        for row in _rows(one)
        if (number := spelled_number(row.sample)) and _spoken_last(number, entries) < _received(one, entries)
    }


def spelled_number(text: str) -> str | None:
    """The sample number that a cell holds, None where it holds none."""
    try:
        return read_number(text)
    except SwabwrightError:
        return None


def _documents(case: Path, entries: Sequence[Entry]) -> list[dict[str, Any]]:
    return [json.loads((case / "files" / file.name).read_text("utf-8")) for file in held_apart(entries)]


def _rows(document: dict[str, Any]) -> list[HeldRow]:
    return [HeldRow(**fields) for fields in document["rows"]]


def _received(document: dict[str, Any], entries: Sequence[Entry]) -> int:
    """The entry by which the report of a document first came in."""
    return min(
        entry.number
        for entry in entries
        if isinstance(body := entry.statement.body, ReportReceived) and body.file.sha256 == document["report"]
    )


def _spoken_last(number: str, entries: Sequence[Entry]) -> int:
    """The last entry that holds a result of a sample; 0 where none does."""
    found = [
        entry.number
        for entry in standing(entries)
        if isinstance(body := entry.statement.body, Result | AmendedResult) and body.sample == number
    ]
    return max(found, default=0)


def _since_amended(row: HeldRow, document: dict[str, Any], entries: Sequence[Entry]) -> HeldRow:
    """The row, with a word when the laboratory has amended its report since; of a known sample, if it speaks of it."""
    amended = any(
        one.accession == document["accession"] and one.status == "amended" and digest != document["report"]
        for digest, one in reports(entries).items()
    )
    number = spelled_number(row.sample)
    last = _spoken_last(number, entries) if number else 0
    still_open = 0 < last < _received(document, entries)
    return replace(row, reason=f"{row.reason} (the report was amended since)") if amended and not still_open else row
