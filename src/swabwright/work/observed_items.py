"""A sample as it was really taken, as an item of the bank: row, phase of the day, what reached the broth alive."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from swabwright.case.folder import Case
from swabwright.case.investigation import Visit
from swabwright.detection.choices import Setting, item_at, make_item
from swabwright.detection.items import Item
from swabwright.detection.recovery import neutralised, recovery
from swabwright.plant.effective import effective_site
from swabwright.plant.sites import Mode, Site
from swabwright.spread.bank import ResponseBank
from swabwright.work.observed_samples import LeftOut, SampleDone

Kept = Callable[[str, Visit], float]
"""Share of a sample's cells still alive when its analysis starts."""


@dataclass(frozen=True)
class Items:
    """Samples of a case as items of one bank."""

    case: Case
    bank: ResponseBank
    kept: Kept

    def of(self, done: SampleDone) -> Item:
        """The sample as an item, with the viability of its own container.

        Raises LeftOut when it has no site, no device that samples a surface, or the bank is not read at its visit.
        """
        site, case = self._site(done), self.case
        setting = Setting(case.plant, case.catalogue, done.visit.model_copy(update={"medium": done.medium}))
        effective = effective_site(site, case.catalogue)
        mode: Mode = "opened" if done.opened and effective.type.opens > 0 else "as_is"
        alive = neutralised(site, case.plant, case.catalogue, done.medium) * self.kept(done.number, done.visit)
        item = replace(
            make_item(setting, effective, (mode, done.device), 0),
            row=self.bank.row_names.index(site.key),
            recovery=recovery(effective, done.device, case.figures) * alive,
        )
        try:
            item = item_at(setting, item, done.taken_at, self.bank)
        except ValueError:
            raise LeftOut(f"sample {done.number}: the bank is not read at visit '{done.visit.id}'") from None
        return _with_area(item, done, site, effective.area_cm2)

    def _site(self, done: SampleDone) -> Site:
        if done.site is None:
            raise LeftOut(f"sample {done.number}: the record names no site of the plant for it")
        device = self.case.catalogue.devices.get(done.device)
        if device is None or device.for_kind != "surface":
            raise LeftOut(f"sample {done.number}: device '{done.device}' samples no surface that the engine can read")
        if done.site.key not in self.bank.row_names:
            raise LeftOut(f"sample {done.number}: site {done.site.code} is not in the bank")
        return done.site


def _with_area(item: Item, done: SampleDone, site: Site, whole_cm2: float) -> Item:
    """The item with the area that was really taken, where that was entered."""
    if not done.area_cm2:
        return item
    fraction = min(1.0, done.area_cm2 / whole_cm2)
    hit = 1.0 if site.spot else fraction
    return replace(item, area_cm2=done.area_cm2, area_fraction=fraction, hit_chance=hit)
