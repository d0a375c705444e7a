"""The ground that a case's record is held against: sites, visits and time zone from its documents."""

from pathlib import Path

from swabwright.case.folder import Case, read_case
from swabwright.errors import SwabwrightError
from swabwright.plant.document import Plant
from swabwright.plant.effective import effective_site
from swabwright.plant.sites import Site
from swabwright.record.ground import UNKNOWN_GROUND, Ground, SiteAsks
from swabwright.spread.schedule import zone_of


def read_ground(case: Path) -> Ground:
    """What the documents of the case folder ask on the floor; nothing where it has no plant yet.

    Errors: SwabwrightError when the documents are there and cannot be read.
    """
    return ground_of(read_case(case)) if (case / "plant.json").exists() else UNKNOWN_GROUND


def ground_as_far_as_known(case: Path) -> tuple[Ground, str | None]:
    """Like `read_ground`; documents that are missing or cannot be read are said in words and keep nothing from view."""
    try:
        ground = read_ground(case)
    except SwabwrightError as error:
        return UNKNOWN_GROUND, f"Lines and stops of sites were not held against the record: {error}"
    missing = "Lines and stops of sites were not held against the record: the case has no plant.json."
    return ground, None if ground.sites else missing


def ground_of(case: Case) -> Ground:
    """Zone, line and stops of every site, the hours of every visit, the plant's time zone and its other names."""
    sites = {}
    for site in case.plant.sites:
        settled = effective_site(site, case.catalogue)
        sites[site.code] = SiteAsks(site.zone, _line(site, case.plant), settled.stop_as_is, settled.stop)
    visits = tuple((visit.limits.starts_at, visit.limits.ends_at) for visit in case.investigation.visits)
    plant = case.plant
    names = [frozenset(one.id for one in every) for every in (plant.lines, plant.equipment, plant.rooms)]
    return Ground(sites, visits, zone_of(plant), *names)


def _line(site: Site, plant: Plant) -> str | None:
    """The line of the site, or of the machine it is on."""
    machine = next((one for one in plant.equipment if one.id == site.equipment), None)
    return site.line or (machine.line if machine else None)
