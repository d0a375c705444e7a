"""Everything that could be sampled on a visit: each site with each device, as it is and opened up."""

from dataclasses import dataclass, replace
from datetime import datetime

from swabwright.case.investigation import Visit
from swabwright.detection.items import Item
from swabwright.detection.occasions import occasion_index
from swabwright.detection.recovery import recovery, viability
from swabwright.detection.windows import middle_of, phase_at, running_span, stop_span
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.effective import EffectiveSite, effective_site, site_figure
from swabwright.plant.figures import Figures
from swabwright.plant.sites import Mode, Site
from swabwright.spread.bank import ResponseBank
from swabwright.spread.hours import Span

MODES: tuple[Mode, ...] = ("as_is", "opened")
USUAL_PEOPLE = 2


@dataclass(frozen=True)
class Setting:
    """What every item of a visit shares: the plant, the catalogue with the figures in use, and the visit."""

    plant: Plant
    catalogue: Catalogue
    visit: Visit

    @property
    def figures(self) -> Figures:
        """The figures in use."""
        return self.catalogue.figures


def build_items(setting: Setting, bank: ResponseBank) -> tuple[Item, ...]:
    """All items of a visit, in the order of the plant's sites: every surface device, every mode that is possible.

    Opened up only where the type opens, the visit may open machines, and the line stands long enough meanwhile.
    """
    rows = {name: index for index, name in enumerate(bank.row_names)}
    return tuple(
        replace(make_item(setting, effective, (mode, device), occasion), row=rows[site.key])
        for site in setting.plant.sites
        for effective in (effective_site(site, setting.catalogue),)
        for mode in MODES
        for span in (possible_span(setting, effective, mode),)
        if span is not None
        for occasion in (_occasion(setting, site, span, bank),)
        for device in surface_devices(effective, setting.catalogue)
    )


def possible_span(setting: Setting, site: EffectiveSite, mode: Mode) -> Span | None:
    """The stretch of the visit in which a site can be sampled in a mode; None if it cannot."""
    if mode == "opened" and not (setting.visit.limits.may_open and site.type.opens > 0):
        return None
    return stop_span(site.site, site.stop_in(mode), setting.plant, setting.visit)


def surface_devices(site: EffectiveSite, catalogue: Catalogue) -> tuple[str, ...]:
    """The devices of a site that sample a surface, the best first."""
    return tuple(code for code in site.devices if catalogue.devices[code].for_kind == "surface")


def area_to_take(setting: Setting, site: EffectiveSite, device: str) -> float:
    """cm2 to take: where it would outlive cleaning and around it; the rulebook's square on a routine visit."""
    # an investigator goes for the joint, a routine round for a square that can be compared
    routine = setting.visit.purpose == "routine"
    wanted = setting.figures.number("rule.routine_area_cm2") if routine else site.sample_area_cm2
    return min(wanted, site.area_cm2, setting.figures.number(f"device.{device}.max_area_cm2"))


def minutes_per_sample(device: str, people: int, figures: Figures) -> float:
    """Minutes of a team at one sample, by how many people it has."""
    usual = figures.number(f"device.{device}.minutes")
    if people == USUAL_PEOPLE:
        return usual
    size = "one_person" if people < USUAL_PEOPLE else "three_people"
    return usual * figures.number(f"rule.minutes_per_sample_{size}_factor")


def item_at(setting: Setting, item: Item, arrive_at: datetime, bank: ResponseBank) -> Item:
    """The same sample read at the phase of its area's day in which it is really taken."""
    site = next(site for site in setting.plant.sites if site.key == item.site_key)
    running = running_span(site, setting.plant, setting.visit)
    return replace(item, occasion=occasion_index(bank.occasions, setting.visit, phase_at(arrive_at, running)))


def _occasion(setting: Setting, site: Site, span: Span, bank: ResponseBank) -> int:
    running = running_span(site, setting.plant, setting.visit)
    return occasion_index(bank.occasions, setting.visit, phase_at(middle_of(span), running))


def make_item(setting: Setting, site: EffectiveSite, how: tuple[Mode, str], occasion: int) -> Item:
    """One site with a mode and a device at an occasion, on row 0 until a bank says which row it is."""
    mode, device = how
    figures, figure = setting.figures, site_figure(site.site, setting.catalogue)
    area_cm2 = area_to_take(setting, site, device)
    fraction = min(1.0, area_cm2 / site.area_cm2)
    opening = figure("minutes_to_open") if mode == "opened" else 0.0
    alive = viability(site.site, setting.plant, setting.catalogue, setting.visit)
    return Item(
        site_key=site.site.key,
        site_code=site.site.code,
        device=device,
        mode=mode,
        occasion=occasion,
        row=0,
        area_cm2=area_cm2,
        area_fraction=fraction,
        recovery=recovery(site, device, figures) * alive,
        reach=figure(f"reach_{mode}"),
        # a named joint or crack is aimed at; otherwise the niche lies anywhere on the site
        hit_chance=1.0 if site.site.spot else fraction,
        minutes=minutes_per_sample(device, setting.visit.limits.people_per_team, figures) + opening,
        opening_minutes=opening,
        wetness=site.wetness,
        # a piece of a site is as deep and as well reached as the whole was
        draws_key=site.site.split_from or site.site.key,
    )
