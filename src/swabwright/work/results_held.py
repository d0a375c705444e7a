"""Rows that were held apart, as a file of the case that the record names."""

import json
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path

from swabwright.record.entry import Entry
from swabwright.record.results import held_apart
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
    return tuple(HeldRow(**row) for document in documents for row in document["rows"])
