"""A medium that does not suit what was used to disinfect: said before packing."""

from collections.abc import Iterator

from swabwright.case.plan import PlanWarning
from swabwright.detection.recovery import chemistry_at_strength, cleanings_of
from swabwright.planning.cautions_facts import fact_warning
from swabwright.planning.cautions_scene import Scene, codes
from swabwright.plant.lines import Cleaning

UNKNOWN = "unknown"


def medium_warnings(scene: Scene) -> Iterator[PlanWarning]:
    """One caution per cleaning whose residue the medium of the visit does not hold, or of which nothing is known."""
    touched = [stop for stop in scene.stops if stop.kind != "blank"]
    for cleaning in scene.plant.cleanings:
        sites = codes([stop for stop in touched if cleaning in cleanings_of(stop.at.site, scene.plant)])
        if sites and cleaning.chemistry == UNKNOWN:
            yield fact_warning("chemistry_unknown", sites, cleaning=cleaning.name)
        elif sites:
            yield from _unsuited(cleaning, sites, scene)


def _unsuited(cleaning: Cleaning, sites: tuple[str, ...], scene: Scene) -> Iterator[PlanWarning]:
    chemistry = chemistry_at_strength(cleaning, scene.figures)
    medium = scene.visit.medium
    kept = scene.figures.number(f"medium.{medium}.{chemistry}")
    if kept < scene.figures.number("caution.medium_kept_least"):
        media, chemistries = scene.catalogue.media, scene.catalogue.chemistries
        yield fact_warning(
            "medium",
            sites,
            medium=media[medium].name if medium in media else medium,
            chemistry=chemistries[chemistry].name if chemistry in chemistries else chemistry,
            cleaning=cleaning.name,
            kept=100 * kept,
        )
