"""Every sample of a case with what the laboratory says of it, the plant's own name of its site first."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from swabwright.case.folder import Case
from swabwright.record.journal import read_record
from swabwright.record.laboratory import Isolate
from swabwright.record.results import CurrentResult, Stated, spoken
from swabwright.work.results_held import held_now, open_rows
from swabwright.work.results_rows import HeldRow
from swabwright.work.results_view import RecordView


@dataclass(frozen=True)
class ShownSample:
    """One sample as a person reads it, for one organism."""

    sample: str
    site_name: str
    """The plant's own name."""
    site: str | None
    zone: int | None
    sample_kind: str
    organism: str | None
    outcome: str
    """The laboratory's word now; 'no result yet' before any."""
    status: str | None
    laboratory: str | None
    accession: str | None
    method: str | None
    said_before: tuple[str, ...] = ()
    isolates: tuple[str, ...] = ()
    contradiction: str | None = None
    held: str | None = None
    """What a later report says of it that is held apart."""


@dataclass(frozen=True)
class ShownResults:
    """All samples, and rows that are held apart."""

    plant: str
    samples: tuple[ShownSample, ...]
    held_apart: tuple[HeldRow, ...]


def shown_results(case: Case) -> ShownResults:
    """Every sample that was collected, in the order of collection, with what stands of it."""
    entries = read_record(case.path)
    view = RecordView(case, entries)
    held = {number: f"'{row.says}': {row.reason}" for number, row in open_rows(case.path, entries).items()}
    shown = [replace(one, held=held.get(number)) for number in view.taken for one in _of_sample(view, number)]
    return ShownResults(case.plant.name, tuple(shown), held_now(case.path, entries))


def _of_sample(view: RecordView, number: str) -> Iterator[ShownSample]:
    current = view.current.get(number, ())
    if not current:
        yield _shown(view, number, None)
    yield from (_shown(view, number, one) for one in current)


def _shown(view: RecordView, number: str, result: CurrentResult | None) -> ShownSample:
    site, body = view.site_of(number), view.taken[number].body
    report = result.latest.report if result else None
    return ShownSample(
        sample=number,
        site_name=site.name if site else f"no site ({body.sample_kind.replace('_', ' ')})",
        site=site.code if site else None,
        zone=view.zone_of(number),
        sample_kind=body.sample_kind,
        organism=result.organism if result else None,
        outcome=_outcome(result),
        status=report.status if report else None,
        laboratory=report.laboratory if report else None,
        accession=report.accession if report else None,
        method=result.latest.body.method if result else None,
        said_before=tuple(_said(one) for one in result.stated if one != result.latest) if result else (),
        isolates=tuple(_isolates(view, number, result)) if result else (),
        contradiction=result.contradiction if result else None,
    )


def _outcome(result: CurrentResult | None) -> str:
    if result is None:
        return "no result yet"
    return "contradictory" if result.outcome is None else spoken(result.outcome)


def _said(one: Stated) -> str:
    return f"{spoken(one.body.outcome)} ({one.report.status} report {one.report.accession}, entry {one.entry})"


def _isolates(view: RecordView, number: str, result: CurrentResult) -> Iterator[str]:
    of_sample = [one for one in view.isolates if (one.sample, one.organism) == (number, result.organism)]
    yield from map(_isolate, of_sample)


def _isolate(one: Isolate) -> str:
    return f"{one.isolate}, strain {one.strain}" if one.strain else one.isolate


def shown_lines(shown: ShownResults) -> Iterator[str]:
    """The samples in lines, then what is held apart."""
    for one in shown.samples:
        code = f" ({one.site}, Z{one.zone})" if one.site else ""
        kind = "" if one.sample_kind == "surface" else f", {one.sample_kind.replace('_', ' ')}"
        said = f"{one.outcome}, {one.organism}, {one.status} report {one.accession}" if one.status else one.outcome
        yield f"{one.sample}  {one.site_name}{code}{kind}: {said}"
        yield from (f"           before: {before}" for before in one.said_before)
        yield from (f"           isolate {isolate}" for isolate in one.isolates)
        if one.contradiction:
            yield f"           {one.contradiction}"
        if one.held:
            yield f"           held apart, so no valid result until the laboratory resolves it: {one.held}"
    if shown.held_apart:
        yield f"Held apart, not used: {len(shown.held_apart)}"
        yield from (f"  {row}" for row in shown.held_apart)
