"""A visit of a case, opened: the floor, the contacts and the clock that follow from the documents alone."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from swabwright.case.folder import Case
from swabwright.case.investigation import Visit
from swabwright.detection.choices import Setting
from swabwright.plant.figures import Figures
from swabwright.plant.space import FloorSpace
from swabwright.spread.network import ContactNetwork, contact_network
from swabwright.spread.occasions import NOTHING_BESIDES, Besides, timeline_of_visits
from swabwright.spread.setting import BankSetting, Subject, bank_setting
from swabwright.spread.treatments import Kind, treatment_of


@dataclass(frozen=True)
class OpenVisit:
    """Everything about a visit that is known before a history is drawn."""

    as_read: Case
    """The documents as they lie in the folder, for their hashes."""
    case: Case
    """The same with sites in the order of their keys, so that no choice hangs on how a plant lists them."""
    visit: Visit
    space: FloorSpace
    network: ContactNetwork
    bank_setting: BankSetting

    @property
    def setting(self) -> Setting:
        """The plant, the catalogue with this case's figures, and the visit."""
        return Setting(self.case.plant, self.case.catalogue, self.visit)

    @property
    def figures(self) -> Figures:
        """The figures of the case."""
        return self.case.figures

    def on(self, visit: Visit) -> "OpenVisit":
        """Another visit at which the same banks are read."""
        return replace(self, visit=visit)

    def treated(self, kind: Kind, at: datetime) -> "OpenVisit":
        """The same visit on banks in which every niche is gone or reduced from this moment on."""
        return replace(self, bank_setting=self.bank_setting.treated(treatment_of(kind, at, self.figures)))


def open_visit(as_read: Case, visit: Visit) -> OpenVisit:
    """The visit with its floor, contacts and clock; refused where a site cannot be walked to."""
    return open_visits(as_read, (visit,))


def open_visits(
    as_read: Case, visits: Sequence[Visit], *, besides: Besides = NOTHING_BESIDES, at: Visit | None = None
) -> OpenVisit:
    """The last of several visits, or the one named, with a clock whose banks are read at all of them.

    besides: days of material tests and moments of actions that the clock must hold. Banks of the same visits and
    the same besides tell the same histories, treated or not.
    """
    sites = tuple(sorted(as_read.plant.sites, key=lambda site: site.key))
    case = replace(as_read, plant=as_read.plant.model_copy(update={"sites": sites}))
    space = FloorSpace(case.plant)
    space.require_reachable(sorted({site.room for site in case.plant.sites}))
    network = contact_network(case.plant, case.catalogue, space)
    hours_after_start = case.figures.number("rule.hours_after_line_start")
    timeline = timeline_of_visits(case.investigation, visits, case.plant, hours_after_start, besides)
    subject = Subject(organism=case.investigation.organism, seed=case.investigation.seed)
    setting = bank_setting(network, case.plant, case.catalogue, timeline, subject)
    visit = at or max(visits, key=lambda one: one.limits.starts_at)
    return OpenVisit(as_read, case, visit, space, network, setting)
