"""Results as statements of the record: the report, every row that is taken in, every isolate."""

import json
import secrets
from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Any

from swabwright.case.canonical import bytes_hash
from swabwright.plant.reading import read_document
from swabwright.record.entry import Statement
from swabwright.record.journal import Journal
from swabwright.record.spelling import statement_bytes
from swabwright.record.values import FileRef
from swabwright.work.record_accept import Signer
from swabwright.work.results_judge import Judged, TakenRow
from swabwright.work.results_report import ReportFacts
from swabwright.work.results_rows import ReadIsolate, ReadRow
from swabwright.work.results_view import RecordView


def report_body(facts: ReportFacts, report: FileRef, table: FileRef, held: FileRef | None) -> dict[str, Any]:
    """The entry of a report with the table that was read beside it and the rows that were held apart."""
    body: dict[str, Any] = {
        "kind": "report_received",
        "file": report.model_dump(),
        "laboratory": facts.laboratory,
        "accession": facts.accession,
        "status": facts.status,
        "authorised_by": facts.authorised_by,
        "table": table.model_dump(),
    }
    if facts.reported_at:
        body["reported_at"] = facts.reported_at
    if held:
        body["held_apart"] = held.model_dump()
    return body


def result_bodies(judged: Judged, facts: ReportFacts, digest: str, view: RecordView) -> Iterator[dict[str, Any]]:
    """The entries of all rows that are taken in, then of new isolates."""
    for taken in judged.taken:
        yield _result(taken, facts, digest)
    known = {(one.sample, one.isolate): one.pick for one in view.isolates}
    for row in judged.isolates:
        if row.isolate is not None:
            # picks are counted by sample where the laboratory does not number them
            after = 1 + sum(sample == row.sample for sample, _ in known)
            pick = row.isolate.pick or known.get((row.sample, row.isolate.name), after)
            known[row.sample, row.isolate.name] = pick
            yield _isolate(row, row.isolate, pick, facts)


def _result(taken: TakenRow, facts: ReportFacts, digest: str) -> dict[str, Any]:
    row = taken.row
    body: dict[str, Any] = {
        "sample": row.sample,
        "outcome": row.outcome,
        "organism": row.organism,
        "method": row.method,
        "report": digest,
    }
    if isinstance(row.started, datetime):
        body["analysis_started_at"] = row.started.isoformat(timespec="seconds")
    if row.colonies is not None:
        body |= {"colonies": row.colonies, "plated_ppm": row.plated_ppm}
    if taken.amends is not None:
        why = row.reason or f"amended report {facts.accession}; the table gives no reason"
        return body | {"kind": "amended_result", "amends": taken.amends, "reason": why}
    remarks = "; ".join(filter(None, (row.remarks, *taken.flags)))
    return body | {"kind": "result"} | ({"remarks": remarks} if remarks else {})


def _isolate(row: ReadRow, one: ReadIsolate, pick: int, facts: ReportFacts) -> dict[str, Any]:
    body = {
        "kind": "isolate",
        "isolate": one.name,
        "sample": row.sample,
        "pick": pick,
        "organism": row.organism,
        "held_by": facts.laboratory,
        "storage": one.storage or facts.storage,
        "strain": one.strain,
        "sequence_identifier": one.sequence,
    }
    return {name: value for name, value in body.items() if value is not None}


def statements(journal: Journal, bodies: Sequence[dict[str, Any]], signer: Signer, at: str) -> list[Statement]:
    """The bodies as the next statements of a device, each linked to the one before."""
    head = journal.chains.device(signer.device)
    sequence, previous, made = head.sequence, head.hash, []
    for body in bodies:
        sequence += 1
        document = {
            "id": secrets.token_hex(16),
            "device": signer.device,
            "sequence": sequence,
            "device_previous": previous,
            "at": at,
            "by": signer.by,
            "body": body,
        }
        statement = read_document(Statement, json.dumps(document), f"entry of {body['kind']}")
        previous = bytes_hash(statement_bytes(statement))
        made.append(statement)
    return made
