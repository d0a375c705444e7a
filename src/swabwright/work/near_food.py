"""Whether a sample touches food or stands beside what does: then a screening result waits for nothing."""

from swabwright.plant.document import Plant
from swabwright.plant.sites import Site
from swabwright.work.results_view import RecordView


def near_food(view: RecordView, sample: str) -> str | None:
    """Why a result of a sample is rung about at once; None when it is not, or when nobody took it."""
    taken, site, zone = view.taken.get(sample), view.site_of(sample), view.zone_of(sample)
    if taken is None or taken.body.sample_kind == "blank":
        return None
    if taken.body.sample_kind == "product":
        return "It is product."
    if zone == 1:
        return "The site touches food."
    if zone == 2 and site and _beside_food(site, view.case.plant):
        return "The site stands beside one that touches food, on the same line or machine."
    return None


def _beside_food(site: Site, plant: Plant) -> bool:
    touching = [other for other in plant.sites if other.zone == 1]
    return any(
        (site.line is not None and site.line == other.line)
        or (site.equipment is not None and site.equipment == other.equipment)
        for other in touching
    )
