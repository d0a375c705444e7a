"""Use case: a result that touches food, or stands beside what does, opens a call sheet at once."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from swabwright.case.call_sheet import CalledResult, CallSheet, HoldAnswer, Lot, ToRing
from swabwright.case.canonical import bytes_hash, readable_json
from swabwright.case.folder import Case
from swabwright.case.writing import write_all
from swabwright.errors import SwabwrightError
from swabwright.plant.document import Plant
from swabwright.plant.imports.names import make_id
from swabwright.record.authority import Refusal
from swabwright.record.floor import HoldAnswered, HoldAsked
from swabwright.record.journal import read_record
from swabwright.record.results import reports
from swabwright.record.standing import standing
from swabwright.reports.call_sheet import call_sheet_pdf
from swabwright.spread.schedule import zone_of
from swabwright.work.call_words import NOT_SAID, may_be_said
from swabwright.work.near_food import near_food
from swabwright.work.results_view import RecordView

FOLDER = "call-sheets"


@dataclass(frozen=True)
class WrittenSheet:
    """Where a call sheet lies, and what to tell the person at once."""

    json: Path
    pdf: Path | None
    sentences: tuple[str, ...]


def write_call_sheet(case: Case, report: str, at: datetime | None = None) -> WrittenSheet | None:
    """The call sheet of the report with this hash, written into the case; None when no result in it asks for a call.

    A sheet that was written before is left as it is, with its time. Nothing waits for the typesetter: when the page
    cannot be set, the JSON stands and the reason is told.
    """
    view = RecordView(case, read_record(case.path))
    called = tuple(sorted(_called(view, report), key=lambda one: one.zone or 0))
    if not called:
        return None
    # the name follows from what is reported: a later reading with more rows opens its own sheet
    stated = "".join(f"{one.sample}{one.outcome}{one.organism};" for one in called)
    received = reports(view.entries)[report]
    name = make_id(f"{received.accession}-{received.status}-{bytes_hash(stated.encode())[:6]}", (), "call-sheet")
    json_file, pdf_file = (case.path / FOLDER / f"{name}.{ending}" for ending in ("json", "pdf"))
    if json_file.is_file():
        told = (f"The call sheet of this report was written before: {json_file}",)
        return WrittenSheet(json_file, pdf_file if pdf_file.is_file() else None, told)
    sheet = call_sheet(
        view, report, called, (at or datetime.now().astimezone()).replace(microsecond=0).astimezone(zone_of(case.plant))
    )
    write_all(case.path / FOLDER, {json_file.name: readable_json(sheet)})
    first = f"RING NOW: {_said(called)}. Call sheet: {pdf_file}"
    try:
        write_all(case.path / FOLDER, {pdf_file.name: call_sheet_pdf(sheet)})
    except SwabwrightError as error:
        return WrittenSheet(json_file, None, (f"RING NOW: {_said(called)}. Call sheet: {json_file}", str(error)))
    return WrittenSheet(json_file, pdf_file, (first,))


def call_sheet(view: RecordView, report: str, called: Sequence[CalledResult], at: datetime) -> CallSheet:
    """The sheet from the record, the investigation and the plant; what stands nowhere is left open."""
    case, received = view.case, reports(view.entries)[report]
    named = {line.id: line.name for line in case.plant.lines}
    known = tuple(dict.fromkeys(one.line for one in called if one.line))
    # a site of no line may serve any: then product of every line is asked about
    lines = known if all(one.line for one in called) else tuple(named)
    names = [named[line] for line in lines if line in named]
    return CallSheet(
        format="swabwright/call-sheet",
        version=1,
        as_of=at,
        agency=case.investigation.agency,
        reference=case.investigation.reference,
        plant=case.plant.name,
        laboratory=received.laboratory,
        accession=received.accession,
        status=received.status,
        authorised_by=received.authorised_by,
        report=report,
        results=tuple(called),
        to_ring=_to_ring(case, received.laboratory),
        hold=tuple(_hold(view, lines)),
        not_answered=tuple(named[line] for line in lines if line in named and line not in _answered(view)),
        lots=tuple(
            Lot(line=line.name, code=lot.code, made_on=lot.made_on)
            for line in case.plant.lines
            if line.id in lines
            for lot in line.lots
        ),
        may_be_said=tuple(may_be_said(called, received.laboratory, names)),
        not_said=NOT_SAID,
    )


def _called(view: RecordView, report: str) -> Iterator[CalledResult]:
    for _, body in view.results:
        if body.report != report or body.outcome not in ("presumptive", "detected"):
            continue
        why = near_food(view, body.sample)
        if why is None:
            continue
        site, taken = view.site_of(body.sample), view.taken[body.sample]
        lot = taken.body.product_lot
        yield CalledResult(
            sample=body.sample,
            outcome=body.outcome,
            organism=body.organism,
            method=body.method,
            site=site.code if site else None,
            site_name=site.name if site else f"product, {f'lot {lot}' if lot else 'its lot not entered'}",
            zone=view.zone_of(body.sample),
            line=site.line if site else _line_of(lot, view.case.plant),
            why=why,
            taken_at=datetime.fromisoformat(taken.taken_at).astimezone(zone_of(view.case.plant)),
        )


def _line_of(lot: str | None, plant: Plant) -> str | None:
    return next((line.id for line in plant.lines if lot in [one.code for one in line.lots]), None)


def _to_ring(case: Case, laboratory: str) -> tuple[ToRing, ...]:
    """Whom to ring; the documents of a case hold the lead and the laboratory, and no numbers."""
    return (
        ToRing(who="Plant: who decides on product"),
        ToRing(who="Plant: out of hours"),
        ToRing(who="Our lead", name=case.visit(None).lead),
        ToRing(who="Officer who decides on product", name=None),
        ToRing(who="Laboratory", name=laboratory),
    )


def _answered(view: RecordView) -> set[str]:
    bodies = (entry.statement.body for entry in standing(view.entries))
    return {body.line for body in bodies if isinstance(body, HoldAnswered)}


def _hold(view: RecordView, lines: Sequence[str]) -> Iterator[HoldAnswer]:
    """What the record says of product on hold on these lines, in the order of the record."""
    named = {line.id: line.name for line in view.case.plant.lines}
    for entry in standing(view.entries):
        body, at = entry.statement.body, datetime.fromisoformat(entry.statement.at)
        match body:
            case HoldAsked() if body.line in lines:
                yield HoldAnswer(line=body.line, words=f"{named[body.line]}: asked of {body.asked_of}", at=at)
            case HoldAnswered() if body.line in lines:
                lot = f" since lot {body.since_lot}" if body.since_lot else ""
                answer = f"{body.answer.replace('_', ' ')}{lot}, says {body.answered_by}"
                yield HoldAnswer(line=body.line, words=f"{named[body.line]}: {answer}", at=at)
            case Refusal() if body.of == "hold":
                yield HoldAnswer(line=None, words=f"refused by {body.refused_by}: {body.words}", at=at)


def _said(called: Sequence[CalledResult]) -> str:
    return "; ".join(f"{one.outcome} at {one.site_name}, sample {one.sample}" for one in called)
