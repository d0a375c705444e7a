"""What was really sampled: a collected number with its visit, site, device and mode."""

from dataclasses import dataclass
from datetime import datetime

from swabwright.case.folder import Case
from swabwright.case.investigation import Visit
from swabwright.plant.sites import Site
from swabwright.work.results_view import RecordView

MM2_A_CM2 = 100.0


class LeftOut(Exception):
    """A sample that the engine cannot read; the message says why."""


@dataclass(frozen=True)
class SampleDone:
    """One collected sample as it was really taken."""

    number: str
    kind: str
    visit: Visit
    site: Site | None
    device: str
    opened: bool
    area_cm2: float | None
    taken_at: datetime
    medium: str


@dataclass(frozen=True)
class Samples:
    """The collected samples of a case, by its record and its accepted plans."""

    case: Case
    view: RecordView

    def done(self, number: str) -> SampleDone:
        """The sample as it was taken; what the entry leaves open stands in the plan. Raises LeftOut."""
        taken, planned = self.view.taken.get(number), self.view.planned.get(number)
        if taken is None:
            raise LeftOut(f"sample {number}: the record does not say that it was collected")
        body, devices, media = taken.body, self.case.catalogue.devices, self.case.catalogue.media
        visit = self._visit(number, datetime.fromisoformat(taken.taken_at))
        device = body.device if body.device in devices or planned is None else planned.device
        return SampleDone(
            number=number,
            kind=body.sample_kind,
            visit=visit,
            site=self.view.site_of(number),
            device=device,
            opened=body.opened_up,
            area_cm2=None if body.area_mm2 is None else body.area_mm2 / MM2_A_CM2,
            taken_at=datetime.fromisoformat(taken.taken_at),
            medium=body.medium if body.medium and body.medium in media else visit.medium,
        )

    def _visit(self, number: str, taken_at: datetime) -> Visit:
        """The visit whose plan holds the number, else the one whose hours hold the moment."""
        case = self.case
        for plan in case.accepted:
            if number in plan.spare_numbers or number in (sample.sample_number for sample in plan.samples):
                return case.visit(plan.visit)
        for visit in case.investigation.visits:
            if visit.limits.starts_at <= taken_at <= visit.limits.ends_at:
                return visit
        raise LeftOut(f"sample {number}: it stands in no accepted plan and was taken outside the hours of every visit")
