"""Use case: how likely it is gone after the actions of the record, and what one more round would make it."""

from collections.abc import Sequence
from dataclasses import dataclass

from swabwright.case.clearance import Clearance
from swabwright.case.folder import Case
from swabwright.case.investigation import Visit
from swabwright.case.speaking import left_out_of
from swabwright.errors import SwabwrightError
from swabwright.record.entry import Entry
from swabwright.record.journal import read_record
from swabwright.spread.bank import ResponseBank
from swabwright.spread.occasions import Besides
from swabwright.work.clearance_actions import ActionDone, actions_done
from swabwright.work.clearance_ahead import Ahead, Standing, look_ahead, visits_ahead
from swabwright.work.clearance_compose import compose_clearance
from swabwright.work.clearance_gone_words import ANY_STRAIN
from swabwright.work.clearance_read import CHOOSES, REPORTS, Begun, Workplace, begin
from swabwright.work.clearance_results import Course, course_of
from swabwright.work.clearance_told import Told
from swabwright.work.next_results import strain_to_read
from swabwright.work.observations import ResultsRead, material_days, observations_of
from swabwright.work.observed_samples import LeftOut, Samples
from swabwright.work.observed_strains import Strain
from swabwright.work.opened import OpenVisit, open_visits
from swabwright.work.read_case import Observe
from swabwright.work.results_view import RecordView
from swabwright.work.simulated import simulated_bank


@dataclass(frozen=True)
class _Record:
    """The record of a case, opened on the clock of its visits, its actions and the rounds to come."""

    opened: OpenVisit
    entries: tuple[Entry, ...]
    course: Course
    coming: tuple[Visit, ...]
    actions: tuple[ActionDone, ...]

    def read(self, bank: ResponseBank) -> ResultsRead:
        return observations_of(self.opened, bank, self.entries)

    def of_strain(self, strain: Strain) -> Observe:
        """How the results of one strain are read on a bank."""
        return lambda bank: self.read(bank).by_strain[strain]


def clearance_of(case: Case, strain: str | None, workplace: Workplace) -> tuple[Clearance, ...]:
    """The clearance documents of a case as its record stands: one of every strain, or of the one asked for.

    Refused where no visit has a result, or facts and results fit no hypothesis (NothingFits).
    """
    record = _open_record(case)
    known, wanted = _strains(record, strain, workplace)
    return tuple(_of_strain(record, one, tuple(other for other in known if other != one), workplace) for one in wanted)


def _open_record(case: Case) -> _Record:
    entries = tuple(read_record(case.path))
    actions, visits = actions_done(case, entries), _visits_with_results(case, entries)
    if not visits:
        raise SwabwrightError(f"{case.path}: no sample of a visit has a result yet, so nothing says what was there")
    course = course_of(visits, actions)
    coming = _coming(case, course)
    besides = Besides(material_days(case, entries), course.moments)
    opened = open_visits(case, (*course.visits, *coming), besides=besides, at=(coming or course.visits)[0])
    return _Record(opened, entries, course, coming, actions)


def _strains(record: _Record, asked: str | None, workplace: Workplace) -> tuple[tuple[Strain, ...], tuple[Strain, ...]]:
    """The strains that results speak of, and those to read; None among them is any strain."""
    histories = round(record.opened.figures.number("inference.histories"))
    bank = simulated_bank(record.opened, REPORTS, workplace.cache, workplace.say, histories=histories)
    results = record.read(bank)
    known = tuple(results.by_strain)
    return known, known if asked is None else (strain_to_read(results, asked),)


def _of_strain(record: _Record, strain: Strain, others: tuple[Strain, ...], workplace: Workplace) -> Clearance:
    workplace.say(f"Reading the results of {ANY_STRAIN if strain is None else f'strain {strain}'}")
    opened, observe = record.opened, record.of_strain(strain)
    begun = begin(opened, record.course, observe, REPORTS, workplace)
    standing = _standings(begun)
    ahead = _ahead(record, observe, standing[-1], workplace) if record.coming else None
    told = Told(
        opened=opened,
        entries=record.entries,
        strain=strain,
        others=others,
        left_out=_left_out(record, strain, begun.one.known.bank),
        actions=record.actions,
        begun=begun,
        standings=standing,
        ahead=ahead,
        coming=record.coming,
    )
    return compose_clearance(told)


def _left_out(record: _Record, strain: Strain, bank: ResponseBank) -> tuple[str, ...]:
    """Results and facts that are not read for a strain, and why."""
    results = record.read(bank)
    several = results.by_strain[strain].several
    facts = left_out_of(record.opened.case.investigation, strain, several=several)
    return (*results.left_out, *results.missing[strain], *facts)


def _coming(case: Case, course: Course) -> tuple[Visit, ...]:
    """The rounds to come; none while nothing is done."""
    figures = case.figures
    names = ("rounds_ahead", "rounds_simulated", "days_between_rounds")
    ahead, simulated, days = (round(figures.number(f"clearance.{name}")) for name in names)
    count = min(ahead, simulated)
    return visits_ahead(case, course, count, days) if course.actions else ()


def _visits_with_results(case: Case, entries: Sequence[Entry]) -> tuple[Visit, ...]:
    """Visits of which a sample has a result, in the order of time."""
    view = RecordView(case, entries)
    samples, found = Samples(case, view), set()
    for number in view.current:
        try:
            found.add(samples.done(number).visit.id)
        except LeftOut:
            continue
    return tuple(one for one in case.investigation.visits if one.id in found)


def _standings(begun: Begun) -> tuple[Standing, ...]:
    """What is believed before any round, and after each."""
    every = begun.course.actions
    seen = tuple(one for one in every if one.seen)
    first = begun.readings(every)
    standings = [Standing(first, first if seen == every else begun.readings(seen))]
    for _, results in begun.since.rounds:
        standings.append(standings[-1].after(results, begun.rates))
    return tuple(standings)


def _ahead(record: _Record, observe: Observe, now: Standing, workplace: Workplace) -> Ahead:
    """The rounds to come, chosen on the first bank, where the same results are read again."""
    course, coming = record.course, record.coming
    planning = begin(record.opened, course, observe, CHOOSES, workplace).plainly()
    workplace.say("Choosing the rounds to come")
    number = round(record.opened.figures.number("clearance.rounds_ahead"))
    # rounds beyond the last simulated week are read as if they were in it
    visits = [coming[min(place, len(coming) - 1)] for place in range(number)]
    return look_ahead(record.opened, course, visits, planning, now)
