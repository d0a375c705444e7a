"""A site as the engine sees it: what the plant did not say comes from its site type, and is named."""

from collections.abc import Callable
from dataclasses import dataclass

from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.catalogue import Catalogue, SiteType
from swabwright.plant.rooms import Wetness
from swabwright.plant.sites import Mode, Site, Stop

DEFAULTED = ("area_cm2", "surface", "wetness", "devices", "stop", "stop_as_is")
"""Fields of a site that its site type fills in when the plant has not said them."""


@dataclass(frozen=True)
class EffectiveSite:
    """A site with nothing left open: area, surface, wetness, devices and stops are settled."""

    site: Site
    type: SiteType
    area_cm2: float
    """Area of the whole site."""
    sample_area_cm2: float
    """Area to take in an investigation, at most the whole site."""
    surface: str
    wetness: Wetness
    devices: tuple[str, ...]
    stop: Stop
    """What sampling it opened up asks for."""
    stop_as_is: Stop
    """What sampling it as it stands asks for."""
    defaults: tuple[str, ...]
    """Fields that rest on the site type because nobody has said them for this site; all unconfirmed."""

    def stop_in(self, mode: Mode) -> Stop:
        """What must stand still, and who opens it, when the site is sampled in this mode."""
        return self.stop if mode == "opened" else self.stop_as_is


def effective_site(site: Site, catalogue: Catalogue) -> EffectiveSite:
    """The site with every open field settled by its site type; an unknown type is refused."""
    kind = site_type_of(site, catalogue)
    area_cm2 = site.area_cm2 or catalogue.figures.number(f"site_type.{kind.id}.area_cm2")
    return EffectiveSite(
        site=site,
        type=kind,
        area_cm2=area_cm2,
        # A small site cannot give more than it has, whatever is usual for its type.
        sample_area_cm2=min(area_cm2, catalogue.figures.number(f"site_type.{kind.id}.sample_area_cm2")),
        surface=site.surface or kind.surface,
        wetness=site.wetness or kind.wetness,
        devices=site.devices or kind.devices,
        stop=site.stop or kind.stop,
        stop_as_is=site.stop_as_is or kind.stop_as_is,
        defaults=tuple(field for field in DEFAULTED if getattr(site, field) is None),
    )


def site_type_of(site: Site, catalogue: Catalogue) -> SiteType:
    """The catalogue entry of a site's type; an unknown one is refused with the nearest name."""
    if site.type not in catalogue.site_types:
        hint = did_you_mean(site.type, list(catalogue.site_types))
        raise SwabwrightError(f"site {site.code}: no site type '{site.type}'{hint}")
    return catalogue.site_types[site.type]


def site_figure(site: Site, catalogue: Catalogue) -> Callable[[str], float]:
    """A reader of this site's own figures: `site_figure(site, catalogue)("reach_as_is")`."""
    kind = site_type_of(site, catalogue)
    return lambda name: catalogue.figures.number(f"site_type.{kind.id}.{name}")
