"""From the record and the accepted plans to what the engine reads: one set of observations for each strain."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from swabwright.case.folder import Case
from swabwright.detection.observed import Observations
from swabwright.record.entry import Entry
from swabwright.spread.bank import ResponseBank
from swabwright.work.journeys import journeys_of
from swabwright.work.observed_items import Items, Kept
from swabwright.work.observed_materials import KINDS, line_and_day
from swabwright.work.observed_reader import Reader
from swabwright.work.observed_samples import LeftOut, Samples
from swabwright.work.observed_strains import Strain, strains_of
from swabwright.work.opened import OpenVisit
from swabwright.work.results_held import open_rows
from swabwright.work.results_view import RecordView
from swabwright.work.results_words import result_words


@dataclass(frozen=True)
class ResultsRead:
    """Observations of every strain, and in sentences what they do not hold and what they rest on."""

    by_strain: dict[Strain, Observations]
    """None is any strain: there when a detected sample is untyped, or no strain is known."""
    left_out: tuple[str, ...]
    """What no strain is read from, and why."""
    missing: dict[Strain, tuple[str, ...]]
    """What is not read for one strain, because it speaks of another or leaves it open."""
    rests_on: tuple[str, ...]
    presumptive: frozenset[str] = frozenset()
    """Samples that are read as detected though nobody has confirmed them."""


def observations_of(
    opened: OpenVisit, bank: ResponseBank, entries: Sequence[Entry], kept: Kept | None = None
) -> ResultsRead:
    """Everything that the laboratory has said so far, as the engine reads it on this bank, strain by strain.

    kept: share of a sample still alive when analysis starts; from the record's hours and loggers when left out.
    """
    view = RecordView(opened.case, entries)
    organism = result_words().name_of(opened.case.investigation.organism)
    items = Items(opened.case, bank, kept or journeys_of(opened, entries).kept)
    reader = Reader(Samples(opened.case, view), items, organism, open_rows(opened.case.path, entries))
    usable = reader.usable()
    told = strains_of(view.isolates, view.current, organism)
    strains = told.asked(one.done.number for one in usable.samples if one.detected and one.done.kind != "blank")
    return ResultsRead(
        by_strain={strain: reader.observations(usable, told, strain) for strain in strains},
        left_out=usable.left_out,
        missing={strain: tuple(reader.missing(usable, told, strain)) for strain in strains},
        rests_on=tuple(reader.rests_on(usable)),
        presumptive=frozenset(one.done.number for one in usable.samples if one.result.outcome == "presumptive"),
    )


def material_days(case: Case, entries: Sequence[Entry]) -> tuple[date, ...]:
    """Days of product, raw material and water samples in the record: the days that a bank must hold to read them."""
    samples = Samples(case, RecordView(case, entries))
    days = set()
    for number, taken in samples.view.taken.items():
        if taken.body.sample_kind in KINDS:
            try:
                days.add(line_and_day(case.plant, taken.body, samples.done(number))[1])
            except LeftOut:
                continue
    return tuple(sorted(days))
