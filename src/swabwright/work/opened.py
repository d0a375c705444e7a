"""A visit of a case, opened: the floor, the contacts and the clock that follow from the documents alone."""

from dataclasses import dataclass, replace

from swabwright.case.folder import Case
from swabwright.case.investigation import Visit
from swabwright.detection.choices import Setting
from swabwright.plant.figures import Figures
from swabwright.plant.space import FloorSpace
from swabwright.spread.network import ContactNetwork, contact_network
from swabwright.spread.occasions import timeline_of
from swabwright.spread.setting import BankSetting, Subject, bank_setting


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


def open_visit(as_read: Case, visit: Visit) -> OpenVisit:
    """The visit with its floor, contacts and clock; refused where a site cannot be walked to."""
    sites = tuple(sorted(as_read.plant.sites, key=lambda site: site.key))
    case = replace(as_read, plant=as_read.plant.model_copy(update={"sites": sites}))
    space = FloorSpace(case.plant)
    space.require_reachable(sorted({site.room for site in case.plant.sites}))
    network = contact_network(case.plant, case.catalogue, space)
    hours_after_start = case.figures.number("rule.hours_after_line_start")
    timeline = timeline_of(case.investigation, visit, case.plant, hours_after_start)
    subject = Subject(organism=case.investigation.organism, seed=case.investigation.seed)
    setting = bank_setting(network, case.plant, case.catalogue, timeline, subject)
    return OpenVisit(as_read, case, visit, space, network, setting)
