"""Use case: a laboratory's table beside its signed report becomes entries of the record, all of them or none."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from swabwright.case.canonical import bytes_hash
from swabwright.case.folder import Case
from swabwright.case.words import counted
from swabwright.case.writing import write_all
from swabwright.errors import SwabwrightError
from swabwright.record.journal import open_journal, read_record
from swabwright.record.laboratory import ReportReceived
from swabwright.record.standing import standing
from swabwright.record.transport import LaboratoryReceipt
from swabwright.record.values import FileRef
from swabwright.work.near_food import near_food
from swabwright.work.record_accept import Signer
from swabwright.work.results_entries import report_body, result_bodies, statements
from swabwright.work.results_held import held_document
from swabwright.work.results_judge import Judged, judge
from swabwright.work.results_mapping import ResultsMapping, read_results_mapping, remember, remembered
from swabwright.work.results_report import GivenFacts, ReportFacts, report_facts
from swabwright.work.results_rows import HeldRow, each_row
from swabwright.work.results_table import ResultsTable, read_results_table
from swabwright.work.results_view import RecordView
from swabwright.work.results_words import result_words


@dataclass(frozen=True)
class ResultsRequest:
    """What is imported: the table, the signed report, the laboratory, its mapping, and what is said of the report."""

    table: Path
    report: Path
    signer: Signer
    laboratory: str | None = None
    mapping: Path | None = None
    given: GivenFacts = field(default_factory=GivenFacts)
    at: str | None = None
    """When it is entered; now, when left out."""


@dataclass(frozen=True)
class ResultsOutcome:
    """What became of a report's rows."""

    facts: ReportFacts
    report: str
    """SHA-256 of the report's file."""
    entries: int
    """How many entries were added; none when the report had been read before."""
    taken: tuple[str, ...]
    """Sample numbers whose result was taken in."""
    amended: tuple[str, ...]
    already: tuple[str, ...]
    isolates: int
    held: tuple[HeldRow, ...]
    flags: tuple[str, ...]
    notes: tuple[str, ...]
    urgent: tuple[str, ...]
    """Rows that are held apart though their sample touches food or stands beside what does: ring the laboratory."""
    readings: tuple[str, ...]
    """How each of the laboratory's words was read."""


@dataclass(frozen=True)
class _Read:
    """A request with everything of it that was read before the record is opened."""

    request: ResultsRequest
    mapping: ResultsMapping
    table: ResultsTable
    facts: ReportFacts


def import_results(case: Case, request: ResultsRequest) -> ResultsOutcome:
    """Take a laboratory's results into the record of a case; refused, with nothing written, when it cannot be read.

    Rows that do not fit the record are held apart with the reason, in a file that the report's entry names.
    """
    read = _read(case, request)
    report, table = _reference(request.report), _reference(request.table)
    with open_journal(case.path) as journal:
        view = RecordView(case, read_record(case.path))
        words = read.mapping.words_with(result_words())
        rows = list(each_row(read.table.table.rows, read.facts, words))
        judged = judge(rows, read.facts, report.sha256, view)
        content = held_document(read.facts, report.sha256, judged.held) if judged.held else None
        held = None if content is None else FileRef(sha256=bytes_hash(content), ending="json", size_bytes=len(content))
        bodies = list(result_bodies(judged, read.facts, report.sha256, view))
        if bodies or not _known(view, report, table, held):
            bodies.insert(0, report_body(read.facts, report, table, held))
            kept = {report.name: request.report.read_bytes(), table.name: request.table.read_bytes()}
            _keep(case.path, kept | ({held.name: content} if held and content else {}))
            journal.add_all(statements(journal, bodies, request.signer, request.at or _now()))
    if request.mapping:
        remember(case.path, read.facts.laboratory, request.mapping)
    return _outcome(read, view, report.sha256, judged, len(bodies))


def _read(case: Case, request: ResultsRequest) -> _Read:
    given = read_results_mapping(request.mapping) if request.mapping else None
    laboratory = request.laboratory or (given.laboratory.name if given else None) or _receiving(case)
    mapping = given or remembered(case.path, laboratory)
    words = mapping.words_with(result_words())
    table = read_results_table(request.table, mapping, words, case.figures)
    facts = report_facts(case, laboratory, request.given, (table.head, mapping, words))
    return _Read(request, mapping, table, facts)


def _receiving(case: Case) -> str:
    """The laboratory that the record says received samples, when there is one only."""
    entries = standing(read_record(case.path))
    named = {body.laboratory for entry in entries if isinstance(body := entry.statement.body, LaboratoryReceipt)}
    if len(named) != 1:
        told = "names several laboratories" if named else "names no laboratory that received samples"
        raise SwabwrightError(f"the record {told}; give --laboratory")
    return named.pop()


def _reference(file: Path) -> FileRef:
    if not file.is_file():
        raise SwabwrightError(f"no file {file}")
    content = file.read_bytes()
    ending = file.suffix.removeprefix(".").lower() or "bin"
    return FileRef(sha256=bytes_hash(content), ending=ending, size_bytes=len(content))


def _known(view: RecordView, report: FileRef, table: FileRef, held: FileRef | None) -> bool:
    """Whether the record already tells this report, this table and these held rows, as its last word about them."""
    last = [
        body
        for entry in standing(view.entries)
        if isinstance(body := entry.statement.body, ReportReceived)
        and body.file.sha256 == report.sha256
        and body.table
        and body.table.sha256 == table.sha256
    ]
    return bool(last) and last[-1].held_apart == held


def _keep(case: Path, files: dict[str, bytes]) -> None:
    new = {name: content for name, content in files.items() if not (case / "files" / name).exists()}
    try:
        write_all(case / "files", new)
    except OSError as error:
        raise SwabwrightError(f"cannot keep the report in {case / 'files'}: {error}") from error


def _now() -> str:
    return datetime.now().astimezone().isoformat(timespec="seconds")


def _outcome(read: _Read, view: RecordView, report: str, judged: Judged, entries: int) -> ResultsOutcome:
    rows = [taken.row for taken in judged.taken]
    readings = sorted({f"'{row.word}' is read as {row.outcome.replace('_', ' ')}" for row in [*rows, *judged.already]})
    return ResultsOutcome(
        facts=read.facts,
        report=report,
        entries=entries,
        taken=tuple(row.sample for row in rows),
        amended=tuple(taken.row.sample for taken in judged.taken if taken.amends),
        already=tuple(row.sample for row in judged.already),
        isolates=len(judged.isolates),
        held=tuple(judged.held),
        flags=tuple(flag for taken in judged.taken for flag in taken.flags),
        notes=(*read.table.notes, *(note for row in rows for note in row.notes)),
        urgent=tuple(_urgent(read, view, judged)),
        readings=tuple(readings),
    )


def _urgent(read: _Read, view: RecordView, judged: Judged) -> Iterator[str]:
    words = read.mapping.words_with(result_words())
    for row in judged.held:
        why = near_food(view, row.sample)
        found = words.outcome(row.says, read.facts.status) in ("presumptive", "detected")
        if row.sample not in view.taken and found:
            why = "Nobody can tell which sample it is; it may be of a site that touches food."
        # a second row that says the same holds nothing back
        if why and "it says the same" not in row.reason:
            yield f"RING THE LABORATORY about sample {row.sample}, '{row.says}': it is held apart. {why}"


def outcome_lines(outcome: ResultsOutcome) -> Iterator[str]:
    """What an import says to the person who asked for it."""
    facts = outcome.facts
    yield from outcome.urgent
    yield f"Report {facts.accession} of {facts.laboratory}, {facts.status}, authorised by {facts.authorised_by}."
    if not outcome.entries:
        yield "This report was read before; nothing has changed."
    else:
        yield (
            f"Taken in: {counted(len(outcome.taken), 'result')}, {len(outcome.amended)} of them beside a first one, "
            f"and {counted(outcome.isolates, 'isolate')}; {len(outcome.already)} were in the record already."
        )
    yield from _section("How the laboratory's words were read", outcome.readings)
    yield from _section("Held apart, not used", map(str, outcome.held))
    yield from _section("Taken in, but look at", outcome.flags)
    yield from _section("How the table was read (a mapping file corrects it)", outcome.notes)


def _section(title: str, lines: Iterator[str] | tuple[str, ...]) -> Iterator[str]:
    listed = list(lines)
    if listed:
        yield f"{title}: {len(listed)}"
        yield from (f"  {line}" for line in listed)
