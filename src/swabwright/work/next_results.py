"""Results so far, read for a visit that is not planned yet: which visits, which strain, on which clock."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from swabwright.case.canonical import bytes_hash
from swabwright.case.folder import Case
from swabwright.case.investigation import Visit
from swabwright.detection.observed import Observations
from swabwright.errors import SwabwrightError
from swabwright.record.entry import Entry
from swabwright.record.journal import read_record
from swabwright.spread.bank import BankName, ResponseBank
from swabwright.spread.occasions import Besides
from swabwright.work.next_materials import lines_in_question, running_day
from swabwright.work.observations import ResultsRead, material_days, observations_of
from swabwright.work.observed_strains import Strain
from swabwright.work.opened import OpenVisit, open_visit, open_visits
from swabwright.work.read_case import ReadCase, read_case


@dataclass(frozen=True)
class ResultsSoFar:
    """A visit opened on the clock of all visits up to it, with the record that says what they found."""

    opened: OpenVisit
    before: tuple[Visit, ...]
    entries: tuple[Entry, ...]
    asked: str | None
    """The strain that was asked for."""

    def read(self, bank: BankName, cache: Path | None, say: Callable[[str], None]) -> ReadCase:
        """The results on one bank, histories doubled while too few bear them."""
        return read_case(self.opened, self.observe, cache, say, bank=bank)

    def observe(self, bank: ResponseBank) -> Observations:
        """What is read of the strain on a bank."""
        results = self.results(bank)
        return results.by_strain[strain_to_read(results, self.asked)]

    def results(self, bank: ResponseBank) -> ResultsRead:
        """Everything that is read, and what is left out."""
        return observations_of(self.opened, bank, self.entries)


def results_hash(observations: Observations, strain: Strain) -> str:
    """SHA-256 of what was read of a strain: every sample with its result; the order of the record does not matter."""
    read = [
        *([one.sample, one.detected, one.count.colonies if one.count else None] for one in observations.results),
        *([one.sample, one.detected, one.line] for one in observations.materials),
        *([one.batch, one.detected, one.silent] for one in observations.blanks),
    ]
    spelled = json.dumps([strain or "any strain", sorted(read, key=str)], separators=(",", ":"))
    return bytes_hash(spelled.encode())


def results_so_far(case: Case, visit: Visit, strain: str | None = None) -> ResultsSoFar:
    """What the record holds before a visit; refused where no earlier visit was planned and accepted.

    strain: which to read where the laboratory told several apart; by default any, or the only one there is.
    """
    accepted = {plan.visit for plan in case.accepted}
    earlier = [one for one in case.investigation.visits if one.limits.starts_at < visit.limits.starts_at]
    before = tuple(one for one in earlier if one.id in accepted)
    if not before:
        raise SwabwrightError(
            f"no visit before '{visit.id}' has an accepted plan, so there are no results to go by; plan it with "
            f"`swabwright plan {case.path} --visit {visit.id}`"
        )
    entries = tuple(read_record(case.path))
    alone = open_visit(case, visit)
    days = {running_day(case.plant, line, visit) for line in lines_in_question(alone)} - {None}
    besides = Besides(material_days=tuple(sorted({*material_days(case, entries), *(day for day in days if day)})))
    opened = open_visits(case, (*before, visit), besides=besides, at=visit)
    return ResultsSoFar(opened, before, entries, strain)


def strain_to_read(read: ResultsRead, asked: str | None) -> Strain:
    """The strain asked for; any strain where it is read, else the first in order of its name."""
    strains = tuple(read.by_strain)
    if asked is None:
        return None if None in strains else strains[0]
    if asked not in strains:
        known = ", ".join(one for one in strains if one) or "none"
        raise SwabwrightError(f"no strain '{asked}' in the record; the strains it knows: {known}")
    return asked
