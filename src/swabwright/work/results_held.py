"""Rows that were held apart, as a file of the case that the record names."""

import json
from collections.abc import Sequence
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

from swabwright.record.entry import Entry
from swabwright.record.results import held_apart, reports
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
    documents = [json.loads((case / "files" / file.name).read_text("utf-8")) for file in held_apart(entries)]
    return tuple(_since_amended(row, one, entries) for one in documents for row in map(_row, one["rows"]))


def _row(fields: dict[str, Any]) -> HeldRow:
    return HeldRow(**fields)


def _since_amended(row: HeldRow, document: dict[str, Any], entries: Sequence[Entry]) -> HeldRow:
    """The row, with a word when the laboratory has amended its report since."""
    amended = any(
        one.accession == document["accession"] and one.status == "amended" and digest != document["report"]
        for digest, one in reports(entries).items()
    )
    return replace(row, reason=f"{row.reason} (the report was amended since)") if amended else row
