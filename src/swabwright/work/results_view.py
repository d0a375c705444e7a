"""What the record and the accepted plans say of sample numbers, as results are held against them."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from swabwright.case.folder import Case
from swabwright.case.plan import PlannedSample
from swabwright.plant.sites import Site
from swabwright.record.entry import Entry
from swabwright.record.laboratory import AmendedResult, Isolate, Result
from swabwright.record.results import CurrentResult, current_results, isolates_now, reports
from swabwright.record.samples import SampleStory, samples
from swabwright.record.sampling import Collected
from swabwright.record.standing import standing, superseded


@dataclass(frozen=True)
class SampleTaken:
    """A collected sample: what was entered, and when it was taken."""

    body: Collected
    taken_at: str


@dataclass(frozen=True)
class RecordView:
    """A case's record read for results."""

    case: Case
    entries: Sequence[Entry]

    @cached_property
    def stories(self) -> dict[str, SampleStory]:
        """Every sample number that the record speaks of."""
        return samples(self.entries)

    @cached_property
    def taken(self) -> dict[str, SampleTaken]:
        """Every collected sample; of two entries for one number the first holds, as in custody."""
        found: dict[str, SampleTaken] = {}
        for entry in standing(self.entries):
            if isinstance(body := entry.statement.body, Collected):
                found.setdefault(body.sample, SampleTaken(body, body.taken_at or entry.statement.at))
        return found

    @cached_property
    def withdrawn(self) -> dict[str, str]:
        """Numbers whose collection was superseded, with the reason."""
        gone = superseded(self.entries)
        return {
            body.sample: gone[entry.statement.id]
            for entry in self.entries
            if isinstance(body := entry.statement.body, Collected) and entry.statement.id in gone
        }

    @cached_property
    def planned(self) -> dict[str, PlannedSample]:
        """Every planned sample by its number."""
        return {sample.sample_number: sample for plan in self.case.accepted for sample in plan.samples}

    @cached_property
    def current(self) -> dict[str, tuple[CurrentResult, ...]]:
        """What stands of every sample."""
        return current_results(self.entries)

    @cached_property
    def results(self) -> tuple[tuple[Entry, Result | AmendedResult], ...]:
        """Every result that counts, with its entry."""
        return tuple(
            (entry, body)
            for entry in standing(self.entries)
            if isinstance(body := entry.statement.body, Result | AmendedResult)
        )

    @cached_property
    def isolates(self) -> tuple[Isolate, ...]:
        """Every isolate, with what was told of it last."""
        return tuple(isolates_now(self.entries).values())

    def accessions(self) -> dict[str, frozenset[str]]:
        """Hashes of the reports received under each accession number."""
        found: dict[str, frozenset[str]] = {}
        for digest, report in reports(self.entries).items():
            found[report.accession] = found.get(report.accession, frozenset()) | {digest}
        return found

    def site_of(self, number: str) -> Site | None:
        """The site of a sample: as entered when it was taken, else as planned, else of the sample it doubles."""
        taken, planned = self.taken.get(number), self.planned.get(number)
        code = (taken.body.site if taken else None) or (planned.site if planned else None)
        if code is None and taken and taken.body.sample_kind == "duplicate" and taken.body.of_sample:
            return self.site_of(taken.body.of_sample)
        return next((site for site in self.case.plant.sites if site.code == code), None)

    def zone_of(self, number: str) -> int | None:
        """The hygiene zone of a sample: as entered when it was taken, else the plant's own label of its site."""
        taken, site = self.taken.get(number), self.site_of(number)
        return (taken.body.zone if taken else None) or (site.zone if site else None)
