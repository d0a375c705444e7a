"""What reaches the broth alive: recovery of device, surface and wetness, times what chemistry and transport leave."""

from swabwright.case.investigation import Visit
from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.effective import EffectiveSite
from swabwright.plant.figures import Figures
from swabwright.plant.lines import Cleaning
from swabwright.plant.sites import Site

HOURS_A_DAY = 24.0


def recovery(site: EffectiveSite, device: str, figures: Figures) -> float:
    """Share of the cells on the sampled area that a device brings into its container, at most 1."""
    share = (
        figures.number(f"recovery.{site.wetness}")
        * figures.number(f"surface.{site.surface}.relative_recovery")
        * figures.number(f"device.{device}.relative_recovery")
    )
    return min(1.0, share)


def viability(site: Site, plant: Plant, catalogue: Catalogue, visit: Visit) -> float:
    """Share of recovered cells still alive when analysis starts: residue at the site times transport, at most 1."""
    return neutralised(site, plant, catalogue, visit.medium) * kept_in_transport(visit, catalogue.figures)


def neutralised(site: Site, plant: Plant, catalogue: Catalogue, medium: str) -> float:
    """Share that survives in the container beside what was used at the site; the worst cleaning counts."""
    if catalogue.media and medium not in catalogue.media:
        hint = did_you_mean(medium, list(catalogue.media))
        raise SwabwrightError(f"investigation.json: visits: no medium '{medium}'{hint}")
    return min(
        (_kept_beside(cleaning, medium, catalogue.figures) for cleaning in cleanings_of(site, plant)), default=1.0
    )


def cleanings_of(site: Site, plant: Plant) -> tuple[Cleaning, ...]:
    """The cleanings that reach a site, by its room or its line."""
    return tuple(
        cleaning for cleaning in plant.cleanings if site.room in cleaning.rooms or (site.line in cleaning.lines)
    )


def _kept_beside(cleaning: Cleaning, medium: str, figures: Figures) -> float:
    kept = min(1.0, figures.number(f"medium.{medium}.{chemistry_at_strength(cleaning, figures)}"))
    # a rinse thins the residue, it does not take it away
    harm = figures.number("viability.harm_left_by_rinse") if cleaning.rinsed else 1.0
    return 1.0 - harm * (1.0 - kept)


def chemistry_at_strength(cleaning: Cleaning, figures: Figures) -> str:
    """The row of the media table for what was used: quat above working strength is floor strength."""
    strong = (cleaning.strength_ppm or 0.0) > figures.number("viability.quat_working_ppm")
    return "quat_floor" if cleaning.chemistry == "quat_normal" and strong else cleaning.chemistry


def kept_in_transport(visit: Visit, figures: Figures) -> float:
    """Share alive after the hours and the temperature until analysis starts; never above 1, growth is not counted."""
    days = visit.hours_to_laboratory / HOURS_A_DAY
    temperature_c = visit.transport_temperature_c
    warm = temperature_c > figures.number("viability.warm_above_c")
    loss = figures.number(f"viability.{'warm' if warm else 'cold'}_loss_log10_per_day")
    frozen = temperature_c < figures.number("viability.frozen_below_c")
    survived = figures.number("viability.kept_when_frozen") if frozen else 1.0
    # growth on the way is never counted as gained: it is no find of what was on the surface
    return float(min(1.0, survived * 10.0 ** (-loss * days)))
