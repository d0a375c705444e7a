"""Use case: what the results of a case mean, one inference for each strain."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property
from pathlib import Path

from swabwright.case.findings import Findings
from swabwright.case.folder import Case
from swabwright.case.speaking import left_out_of
from swabwright.detection.observed import Observations
from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.inference.wording import LaboratoryMatch
from swabwright.plant.figures import Figures
from swabwright.record.entry import Entry
from swabwright.record.journal import read_record
from swabwright.spread.bank import BankName, ResponseBank
from swabwright.spread.occasions import Besides
from swabwright.work.findings_compose import RecordTold, compose_findings
from swabwright.work.findings_cut import before_actions
from swabwright.work.findings_matches import found_words, matches_in
from swabwright.work.findings_read import ReadStrain
from swabwright.work.journeys import Journeys, journeys_of
from swabwright.work.observations import ResultsRead, material_days, observations_of
from swabwright.work.observed_samples import LeftOut, SampleDone, Samples
from swabwright.work.observed_strains import Strain
from swabwright.work.opened import OpenVisit, open_visits
from swabwright.work.read_case import read_case
from swabwright.work.results_view import RecordView
from swabwright.work.simulated import simulated_bank

BANK: BankName = "B"
"""Not the bank that chose the samples: what was chosen on one looks too good on it."""


@dataclass(frozen=True)
class FindingsAsked:
    """What is asked: one strain or all, and the laboratory's table of matches with isolates of patients."""

    strain: str | None = None
    matches: Path | None = None


@dataclass(frozen=True)
class _Asked:
    """A case with the entries that its findings are made from."""

    opened: OpenVisit
    entries: tuple[Entry, ...]
    head: str
    sampled: tuple[SampleDone, ...]
    late: tuple[str, ...]
    matches: Mapping[str, LaboratoryMatch]

    def results(self, bank: ResponseBank, figures: Figures | None = None) -> ResultsRead:
        """The results as the engine reads them, with the figures of the case or with others."""
        opened = self.opened
        if figures is not None:
            catalogue = replace(opened.case.catalogue, figures=figures)
            opened = replace(opened, case=replace(opened.case, catalogue=catalogue))
        return observations_of(opened, bank, self.entries, self._journeys.under(opened.figures).kept)

    @cached_property
    def _journeys(self) -> Journeys:
        return journeys_of(self.opened, self.entries)


def findings_of(
    case: Case, wanted: FindingsAsked, cache_folder: Path | None, say: Callable[[str], None]
) -> tuple[Findings, ...]:
    """The findings of every strain, or of the one that is wanted; the same case and seed give the same findings.

    Samples taken after the first action was seen or said done are left out. Refused where nothing was read yet
    (SwabwrightError), or where no hypothesis explains the results (NothingFits).
    """
    asked = _asked(case, wanted.matches)
    strains = _strains(asked, wanted.strain, cache_folder, say)
    return tuple(_of_strain(asked, strain, cache_folder, say) for strain in strains)


def _asked(case: Case, matches: Path | None) -> _Asked:
    every = read_record(case.path)
    entries, late = before_actions(case, every)
    sampled = _sampled(case, entries)
    if not sampled:
        raise SwabwrightError(
            f"{case.path}: the record holds no result that could be read; take in the laboratory's report with "
            "`swabwright results import` first"
        )
    visits = {done.visit.id: done.visit for done in sampled}
    days = material_days(case, entries)
    opened = open_visits(case, tuple(visits.values()), besides=Besides(material_days=days))
    isolates = RecordView(case, every).isolates
    return _Asked(opened, entries, every[-1].hash, sampled, late, matches_in(matches, isolates))


def _sampled(case: Case, entries: Sequence[Entry]) -> tuple[SampleDone, ...]:
    """Every sample with a result, as it was taken."""
    view = RecordView(case, entries)
    found = []
    for number in sorted(view.current):
        try:
            found.append(Samples(case, view).done(number))
        except LeftOut:
            continue
    return tuple(found)


def _strains(
    asked: _Asked, wanted: str | None, cache_folder: Path | None, say: Callable[[str], None]
) -> tuple[Strain, ...]:
    """The strains that results speak of, or the one that is wanted; an unknown one is refused."""
    histories = round(asked.opened.figures.number("inference.histories"))
    bank = simulated_bank(asked.opened, BANK, cache_folder, say, histories=histories)
    results = asked.results(bank)
    found = results.by_strain
    if not any(one.results or one.materials for one in found.values()):
        reasons = "; ".join(results.left_out)
        raise SwabwrightError(f"{asked.opened.case.path}: none of the results can be read: {reasons}")
    if wanted is None:
        return tuple(found)
    if wanted not in found:
        known = [strain for strain in found if strain is not None]
        raise SwabwrightError(f"no strain '{wanted}' among the isolates of the record{did_you_mean(wanted, known)}")
    return (wanted,)


def _of_strain(asked: _Asked, strain: Strain, cache_folder: Path | None, say: Callable[[str], None]) -> Findings:
    say(f"Reading the results of {'any strain' if strain is None else f'strain {strain}'}")

    def observe(bank: ResponseBank) -> Observations:
        return asked.results(bank).by_strain[strain]

    one = read_case(asked.opened, observe, cache_folder, say, bank=BANK)
    bank = one.known.bank
    read = ReadStrain(one, lambda figures: asked.results(bank, figures).by_strain[strain], say)
    return compose_findings(read, _told(asked, strain, asked.results(bank)))


def _facts_left_out(asked: _Asked, strain: Strain, results: ResultsRead) -> tuple[str, ...]:
    several = results.by_strain[strain].several
    return tuple(left_out_of(asked.opened.case.investigation, strain, several=several))


def _told(asked: _Asked, strain: Strain, results: ResultsRead) -> RecordTold:
    view = RecordView(asked.opened.case, asked.entries)
    presumptive = frozenset(
        sample for sample, current in view.current.items() if any(one.outcome == "presumptive" for one in current)
    )
    return RecordTold(
        strain=strain,
        head=asked.head,
        as_of=datetime.fromisoformat(asked.entries[-1].statement.at),
        sampled_on=tuple(done.taken_at.date() for done in asked.sampled),
        visits={done.visit.id: done.visit.name for done in asked.sampled},
        found=found_words(asked.matches, view.isolates, strain),
        presumptive=presumptive,
        left_out=(
            *results.left_out,
            *results.missing.get(strain, ()),
            *_facts_left_out(asked, strain, results),
            *asked.late,
        ),
        rests_on=results.rests_on,
    )
